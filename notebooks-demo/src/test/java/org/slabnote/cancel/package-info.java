/** How soon every bundled operation heeds a cancel. */
@org.jspecify.annotations.NullMarked
package org.slabnote.cancel;
