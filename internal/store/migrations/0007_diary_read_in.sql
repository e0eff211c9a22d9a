-- The last of many lines that one deed wrote, from entry on; 0 = it was on one
-- line.
ALTER TABLE diary_deed ADD COLUMN last_entry INTEGER NOT NULL DEFAULT 0;
