package org.slabnote.worker.run;

/** Something that a third party's plugin must not do. The message says what, without naming it. */
final class PluginFault extends RuntimeException {
  private static final long serialVersionUID = 1L;

  PluginFault(String message) {
    super(message);
  }

  PluginFault(String message, Throwable cause) {
    super(message, cause);
  }
}
