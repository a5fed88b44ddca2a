@NullMarked
package org.slabnote.app.create;

import org.jspecify.annotations.NullMarked;
