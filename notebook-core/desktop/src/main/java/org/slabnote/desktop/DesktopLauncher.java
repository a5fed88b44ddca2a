package org.slabnote.desktop;

import java.nio.file.Path;
import java.util.logging.Level;
import java.util.logging.Logger;
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
  /** JavaFX warns of every start from a class path, where it runs as well; the terminal is no place. */
  private static final Logger JAVAFX = Logger.getLogger("javafx");

  private DesktopLauncher() {}

  /**
   * Opens the window and returns when it is closed. Once in a process.
   *
   * @param job the job folder
   * @throws Fault if there is no display, or the window's libraries do not fit the machine
   */
  public static void open(Path job) {
    JAVAFX.setLevel(Level.SEVERE);
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
