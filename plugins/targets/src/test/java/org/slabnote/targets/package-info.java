/** Tests of the targets plugin. */
@NullMarked
package org.slabnote.targets;

import org.jspecify.annotations.NullMarked;
