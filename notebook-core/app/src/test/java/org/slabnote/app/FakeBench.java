package org.slabnote.app;

import java.nio.file.Path;
import java.util.Map;
import java.util.Optional;
import org.slabnote.api.Table;
import org.slabnote.engine.plugin.PluginPins;
import org.slabnote.engine.problem.BadInput;
import org.slabnote.engine.run.Outcome;
import org.slabnote.engine.run.RunListener;
import org.slabnote.engine.run.Standing;

/** An engine that answers what a test tells it to. */
class FakeBench implements Bench {
  @Override
  public Outcome run(Path job, RunListener listener) throws BadInput {
    throw new UnsupportedOperationException("run");
  }

  @Override
  public Standing standing(Path job) throws BadInput {
    throw new UnsupportedOperationException("standing");
  }

  @Override
  public Optional<String> recheck(Path job, RunListener listener) throws BadInput {
    throw new UnsupportedOperationException("recheck");
  }

  @Override
  public Map<String, Table> tables(Path job) throws BadInput {
    throw new UnsupportedOperationException("tables");
  }

  @Override
  public Outcome recorded(Path job, RunListener listener) throws BadInput {
    throw new UnsupportedOperationException("recorded");
  }

  @Override
  public PluginPins plugins(Path job) {
    throw new UnsupportedOperationException("plugins");
  }
}
