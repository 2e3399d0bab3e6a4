CREATE TABLE photos (
  job TEXT NOT NULL,
  name TEXT NOT NULL,
  device TEXT NOT NULL,
  jpeg BLOB NOT NULL,
  PRIMARY KEY (job, name)
) STRICT;
