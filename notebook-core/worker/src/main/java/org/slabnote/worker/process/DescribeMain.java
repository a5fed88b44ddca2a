package org.slabnote.worker.process;

import java.io.FileDescriptor;
import java.io.FileInputStream;
import java.io.FileOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.util.Locale;
import java.util.Optional;
import org.slabnote.worker.run.Descriptions;

/** The process that loads one plugin, says what it is, and ends. */
final class DescribeMain {
  private DescribeMain() {}

  /** Answers one question. No arguments. */
  public static void main(String[] arguments) {
    Locale.setDefault(Locale.ROOT);
    Pipe pipe =
        new Pipe(new FileInputStream(FileDescriptor.in), new FileOutputStream(FileDescriptor.out));
    PrintStream elsewhere =
        new PrintStream(new FileOutputStream(FileDescriptor.err), true, StandardCharsets.UTF_8);
    System.setOut(elsewhere); // what a plugin prints must not get between the frames
    System.setErr(elsewhere);
    System.setIn(InputStream.nullInputStream());
    ExitCaller.watch(elsewhere);
    int status = Main.CONFUSED;
    try {
      Optional<Message> first = pipe.receive();
      if (first.isPresent() && first.get() instanceof Message.Describe describe) {
        ClassLoader host = DescribeMain.class.getClassLoader();
        pipe.send(new Message.Described(Descriptions.of(describe.plugin(), host)));
        status = 0;
      }
    } catch (IOException e) {
      status = Main.ALONE;
    } finally {
      Runtime.getRuntime().halt(status); // whatever the plugin left running ends here
    }
  }
}
