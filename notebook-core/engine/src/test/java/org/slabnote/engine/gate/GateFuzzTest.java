package org.slabnote.engine.gate;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.slabnote.engine.compiler.Compiled;
import org.slabnote.engine.compiler.CompiledClass;
import org.slabnote.engine.document.Document;
import org.slabnote.engine.problem.Problem;

/**
 * Cells and class files made by chance. A short run by default; for as long as the property {@code
 * slabnote.fuzz.seconds} says in the profile {@code fuzz}. Seeds count up from {@code
 * slabnote.fuzz.seed}, so that a failure names the seed that repeats it.
 */
class GateFuzzTest {
  private static final int CELLS = 20;
  private static final long SECONDS = Long.getLong("slabnote.fuzz.seconds", 3);
  private static final long FIRST = Long.getLong("slabnote.fuzz.seed", 1);

  @Test
  void theAnswerIsThatOfTheFragmentWhateverTheWrapping() throws Exception {
    long end = System.nanoTime() + 1_000_000_000L * SECONDS;
    long seed = FIRST;
    int refused = 0;
    int passed = 0;
    do {
      HostileCells maker = new HostileCells(seed);
      List<HostileCells.Made> made = new ArrayList<>();
      StringBuilder text = new StringBuilder();
      for (int i = 0; i < CELLS; i++) {
        made.add(maker.next(i + 1));
        text.append("```java c").append(i).append('\n').append(made.get(i).source());
        text.append("\n```\n");
      }
      Document document = Cells.document(text.toString());
      List<Problem> problems = Cells.refusals(Cells.compile(document), document);
      for (int i = 0; i < CELLS; i++) {
        String cell = "c" + i;
        String what = "seed " + seed + ", cell " + cell + "\n" + made.get(i).source();
        List<Problem> own =
            problems.stream().filter(problem -> problem.cell().equals(cell)).toList();
        if (made.get(i).word().isEmpty()) {
          assertThat(own).as(what).isEmpty();
          passed++;
        } else {
          String word = made.get(i).word();
          assertThat(own).as(what).anyMatch(problem -> problem.message().contains(word));
          refused++;
        }
      }
      seed++;
    } while (System.nanoTime() < end);
    told("gate fuzz: cells refused " + refused + ", let through " + passed);
    assertThat(refused).isGreaterThan(5);
    assertThat(passed).isGreaterThan(1);
  }

  @Test
  void damagedClassFilesAreJudgedAndNeverCrashNorHang() throws Exception {
    List<Cells.Listed> cells = new ArrayList<>(Cells.listed("honest.txt").subList(0, 8));
    cells.addAll(Cells.listed("honest.txt").subList(40, 46));
    Document document = Cells.notebook(cells);
    Compiled good = Cells.compile(document);
    long end = System.nanoTime() + 1_000_000_000L * SECONDS;
    long seed = FIRST;
    long longest = 0;
    int refused = 0;
    while (System.nanoTime() < end) {
      Random random = new Random(seed);
      List<CompiledClass> damaged = new ArrayList<>(good.classes());
      int at = random.nextInt(damaged.size());
      CompiledClass one = damaged.get(at);
      byte[] bytes = damage(one.bytes(), random);
      damaged.set(at, new CompiledClass(one.name(), one.cell(), one.statement(), bytes));
      long start = System.nanoTime();
      List<Problem> problems;
      try {
        problems = Cells.refusals(new Compiled(good.statements(), damaged), document);
      } catch (RuntimeException | Error e) {
        throw new AssertionError("seed " + seed + ", class " + one.name(), e);
      }
      longest = Math.max(longest, System.nanoTime() - start);
      assertThat(problems).allMatch(problem -> problem.kind() == Problem.Kind.REFUSED);
      refused += problems.isEmpty() ? 0 : 1;
      seed++;
    }
    told("gate fuzz: damaged class files " + (seed - FIRST) + ", refused " + refused + ", longest "
        + longest / 1_000_000 + " ms");
    assertThat(seed - FIRST).isGreaterThan(5);
    assertThat(refused).isGreaterThan(1);
    assertThat(longest).isLessThan(20_000_000_000L);
  }

  /** The figures of a longer run are worth telling. */
  private static void told(String figures) {
    if (System.getProperty("slabnote.fuzz.seconds") != null) {
      System.out.println(figures);
    }
  }

  private static byte[] damage(byte[] good, Random random) {
    byte[] bytes = random.nextInt(8) == 0
        ? java.util.Arrays.copyOf(good, random.nextInt(good.length))
        : good.clone();
    for (int n = 1 + random.nextInt(6); n > 0 && bytes.length > 0; n--) {
      int at = random.nextInt(bytes.length);
      switch (random.nextInt(4)) {
        case 0 -> bytes[at] ^= (byte) (1 << random.nextInt(8));
        case 1 -> bytes[at] = (byte) random.nextInt(256);
        case 2 -> bytes[at] = (byte) (random.nextBoolean() ? 0xff : 0);
        default -> {
          int from = random.nextInt(bytes.length);
          int length = Math.min(random.nextInt(32), bytes.length - Math.max(at, from));
          System.arraycopy(bytes, from, bytes, at, length);
        }
      }
    }
    return bytes;
  }
}
