-- Whether nobody waters a place, so that rain must do.
ALTER TABLE place ADD COLUMN rain_fed INTEGER NOT NULL DEFAULT 0;
