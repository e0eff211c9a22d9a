-- The garden document. One row each in garden; the lists keep their order in ord.
CREATE TABLE garden (
  id               INTEGER PRIMARY KEY CHECK (id = 1),
  name             TEXT NOT NULL,
  weather_ref      TEXT NOT NULL,
  latitude_deg     REAL NOT NULL,
  longitude_deg    REAL NOT NULL,
  elevation_m      REAL NOT NULL,
  people           INTEGER NOT NULL,
  portions_per_day REAL NOT NULL,
  minutes_per_week REAL NOT NULL,
  indoor_trays     REAL NOT NULL,
  experience       TEXT NOT NULL,
  imperial         INTEGER NOT NULL,
  saved_at         TEXT NOT NULL
) STRICT;

CREATE TABLE place (
  ord       INTEGER PRIMARY KEY,
  name      TEXT NOT NULL UNIQUE,
  kind      TEXT NOT NULL,
  length_m  REAL NOT NULL,
  width_m   REAL NOT NULL,
  sun_hours REAL NOT NULL,
  cover     TEXT NOT NULL,
  pots      INTEGER NOT NULL,
  litres    REAL NOT NULL
) STRICT;

CREATE TABLE want (
  ord               INTEGER PRIMARY KEY,
  dish              TEXT NOT NULL UNIQUE,
  portions_per_week REAL NOT NULL,
  liking            REAL NOT NULL
) STRICT;

CREATE TABLE grown (
  ord     INTEGER PRIMARY KEY,
  place   TEXT NOT NULL,
  from_cm INTEGER NOT NULL,
  to_cm   INTEGER NOT NULL,
  crop    TEXT NOT NULL,
  year    INTEGER NOT NULL
) STRICT;

CREATE TABLE standing (
  ord     INTEGER PRIMARY KEY,
  place   TEXT NOT NULL,
  from_cm INTEGER NOT NULL,
  to_cm   INTEGER NOT NULL,
  crop    TEXT NOT NULL,
  route   TEXT NOT NULL,
  class   TEXT NOT NULL,
  started TEXT NOT NULL,
  set_out TEXT NOT NULL -- empty where it was sown in place
) STRICT;

CREATE TABLE in_store (
  ord  INTEGER PRIMARY KEY,
  dish TEXT NOT NULL,
  kg   REAL NOT NULL
) STRICT;

CREATE TABLE lock (
  ord   INTEGER PRIMARY KEY,
  dish  TEXT NOT NULL,
  place TEXT NOT NULL -- empty = everywhere
) STRICT;

-- Earlier states of the garden document in its text form.
CREATE TABLE revision (
  id          INTEGER PRIMARY KEY AUTOINCREMENT,
  replaced_at TEXT NOT NULL,
  text        TEXT NOT NULL
) STRICT;

-- Weather records: plain CSV, packed with gzip.
CREATE TABLE weather_record (
  name          TEXT PRIMARY KEY,
  station       TEXT NOT NULL,
  title         TEXT NOT NULL,
  source        TEXT NOT NULL,
  estimated     INTEGER NOT NULL,
  latitude_deg  REAL NOT NULL,
  longitude_deg REAL NOT NULL,
  elevation_m   REAL NOT NULL,
  start         TEXT NOT NULL,
  days          INTEGER NOT NULL,
  sha256        TEXT NOT NULL, -- of the CSV before packing
  csv_gz        BLOB NOT NULL
) STRICT;

CREATE TABLE plan (
  id           INTEGER PRIMARY KEY CHECK (id = 1),
  made_on      TEXT NOT NULL,
  seed         INTEGER NOT NULL,
  problem_hash TEXT NOT NULL,
  json         TEXT NOT NULL
) STRICT;

CREATE TABLE setting (
  key   TEXT PRIMARY KEY,
  value TEXT NOT NULL
) STRICT, WITHOUT ROWID;
