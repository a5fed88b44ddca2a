@NullMarked
package org.slabnote.app;

import org.jspecify.annotations.NullMarked;
