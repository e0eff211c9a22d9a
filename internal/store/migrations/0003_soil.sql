-- The texture of the ground; empty = not said, or for a place the garden's.
ALTER TABLE garden ADD COLUMN soil TEXT NOT NULL DEFAULT '';
ALTER TABLE place ADD COLUMN soil TEXT NOT NULL DEFAULT '';

-- Measured hours of the last year or so: plain CSV, packed with gzip.
CREATE TABLE weather_hours (
  name   TEXT PRIMARY KEY, -- the weather record that they belong to
  source TEXT NOT NULL,
  sha256 TEXT NOT NULL, -- of the CSV before packing
  csv_gz BLOB NOT NULL
) STRICT;
