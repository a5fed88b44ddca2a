package org.slabnote.desktop;

import java.nio.file.Path;
import javafx.application.Application;
import org.slabnote.engine.problem.Fault;

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
   * @throws Fault if there is no display, or the window's libraries do not fit the machine
   */
  public static void open(Path job) {
    try {
      Application.launch(DesktopApp.class, job.toAbsolutePath().normalize().toString());
    } catch (UnsupportedOperationException | LinkageError e) {
      throw new Fault(
          "the window cannot be opened: " + e.getMessage()
              + ". It needs a display, and on Linux GTK 3 (libgtk-3-0). "
              + "The commands run and report need neither",
          e);
    }
  }
}
