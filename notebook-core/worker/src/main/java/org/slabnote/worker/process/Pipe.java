package org.slabnote.worker.process;

import java.io.BufferedInputStream;
import java.io.BufferedOutputStream;
import java.io.DataInputStream;
import java.io.DataOutputStream;
import java.io.EOFException;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.util.Optional;
import org.slabnote.api.codec.Canonical;

/** Messages over a pair of streams: four bytes of length, then the canonical encoding. */
final class Pipe {
  private static final int BUFFER = 1 << 16;

  private final DataInputStream in;
  private final DataOutputStream out;

  Pipe(InputStream in, OutputStream out) {
    this.in = new DataInputStream(new BufferedInputStream(in, BUFFER));
    this.out = new DataOutputStream(new BufferedOutputStream(out, BUFFER));
  }

  /** Sends a message whole. Any thread. */
  void send(Message message) throws IOException {
    byte[] bytes = Canonical.encode(message);
    synchronized (out) {
      out.writeInt(bytes.length);
      out.write(bytes);
      out.flush();
    }
  }

  /** Returns whether nothing has come yet. */
  boolean isSilent() throws IOException {
    return in.available() == 0;
  }

  /** Waits for the next message; nothing when the other side is gone. */
  Optional<Message> receive() throws IOException {
    try {
      int length = in.readInt();
      if (length < 1) {
        throw new IOException("a message of " + length + " bytes; expected 1 or more");
      }
      byte[] bytes = in.readNBytes(length);
      return bytes.length < length
          ? Optional.empty()
          : Optional.of((Message) Canonical.decode(bytes, Pipe.class.getClassLoader()));
    } catch (EOFException e) {
      return Optional.empty();
    } catch (IllegalArgumentException | ClassCastException e) {
      throw new IOException("not a message: " + e.getMessage(), e);
    }
  }
}
