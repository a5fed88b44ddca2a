package org.slabnote.api;

/**
 * What became of an event.
 *
 * @since 0.1
 */
public enum EventState {
  /** Not yet explained: told with every cut near it. */
  OPEN,
  /** Explained by a finding. */
  EXPLAINED,
  /** No target of its own, with the reason: a predicted multiple, an arm crossing, an air echo. */
  REJECTED
}
