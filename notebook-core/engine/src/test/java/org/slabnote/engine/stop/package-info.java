@NullMarked
package org.slabnote.engine.stop;

import org.jspecify.annotations.NullMarked;
