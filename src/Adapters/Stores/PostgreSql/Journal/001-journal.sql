-- Everything that happened, in order. at_ms: milliseconds since 1970, UTC. body: the alarm or the advice as JSON, as others read it.
CREATE TABLE events (
  number     BIGINT  GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
  site       TEXT    NOT NULL,
  key        TEXT    NOT NULL,
  what       TEXT    NOT NULL,
  name       TEXT    NOT NULL,
  at_ms      BIGINT  NOT NULL,
  from_state TEXT,
  state      TEXT    NOT NULL,
  nth        INTEGER NOT NULL,
  dock       TEXT    NOT NULL,
  slip       TEXT,
  body       TEXT    NOT NULL,
  UNIQUE (site, key)
);

CREATE INDEX events_by_name ON events (site, what, name, number);
CREATE INDEX events_by_slip ON events (site, slip, number);
CREATE INDEX events_by_dock ON events (site, dock, number);
CREATE INDEX events_by_time ON events (site, at_ms);

-- Whom an event is to be told, on which channel, and how that went.
CREATE TABLE outbox (
  event    BIGINT  NOT NULL REFERENCES events (number) ON DELETE CASCADE,
  contact  TEXT    NOT NULL,
  channel  TEXT    NOT NULL,
  state    TEXT    NOT NULL,
  attempts INTEGER NOT NULL,
  next_ms  BIGINT,
  why      TEXT,
  PRIMARY KEY (event, contact, channel)
);

CREATE INDEX outbox_waiting ON outbox (event) WHERE state = 'waiting';

CREATE TABLE contacts (
  site    TEXT NOT NULL,
  name    TEXT NOT NULL,
  role    TEXT NOT NULL,
  slip    TEXT,
  from_ms BIGINT,
  to_ms   BIGINT,
  origin  TEXT NOT NULL,
  PRIMARY KEY (site, name)
);

-- An endpoint may let whoever reads it send there.
CREATE TABLE addresses (
  site     TEXT NOT NULL,
  contact  TEXT NOT NULL,
  channel  TEXT NOT NULL,
  endpoint TEXT NOT NULL,
  PRIMARY KEY (site, contact, channel),
  FOREIGN KEY (site, contact) REFERENCES contacts (site, name) ON DELETE CASCADE
);

CREATE TABLE site_files (
  number     BIGINT  GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
  site       TEXT    NOT NULL,
  applied_ms BIGINT  NOT NULL,
  sha256     TEXT    NOT NULL,
  text       TEXT    NOT NULL
);

-- What was refused: how often for each reason, and the last of each.
CREATE TABLE refusals (
  site    TEXT    NOT NULL,
  reason  TEXT    NOT NULL,
  count   BIGINT  NOT NULL,
  at_ms   BIGINT  NOT NULL,
  topic   TEXT    NOT NULL,
  detail  TEXT    NOT NULL,
  excerpt BYTEA   NOT NULL,
  PRIMARY KEY (site, reason)
);
