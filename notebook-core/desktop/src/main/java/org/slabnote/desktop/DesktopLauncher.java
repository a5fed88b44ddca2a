package org.slabnote.desktop;

import java.nio.file.Path;
import javafx.application.Application;

/**
 * Opens a job in a window.
 *
 * <p>It is no JavaFX application itself, so that it starts from a plain class path.
 *
 * @since 0.1
 */
public final class DesktopLauncher {
  private DesktopLauncher() {}

  /**
   * Opens the window and returns when it is closed. Once in a process.
   *
   * @param job the job folder
   */
  public static void open(Path job) {
    Application.launch(DesktopApp.class, job.toAbsolutePath().normalize().toString());
  }
}
