-- Pictures, and bought bottles to measure a bottle of one's own against.  Columns are added at the end of a table alone, so
-- that the journal's older changesets still fit.

-- A bought bottle as reference: what its label says.  What was read or tasted of it is in `reading`.
CREATE TABLE reference (
    id               INTEGER PRIMARY KEY AUTOINCREMENT,
    name             TEXT NOT NULL CHECK (length(name) BETWEEN 1 AND 200), -- "the green one of my uncle"
    strength_pct_vol REAL CHECK (strength_pct_vol >= 0 AND strength_pct_vol <= 100), -- as on the label
    volume_ml        REAL CHECK (volume_ml > 0 AND volume_ml < 1e6),
    price            REAL CHECK (price >= 0 AND price < 1e9),
    currency         TEXT NOT NULL DEFAULT '' CHECK (length(currency) <= 12),
    since            TEXT CHECK (since GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'), -- in the house since
    note             TEXT NOT NULL DEFAULT '' CHECK (length(note) <= 4000)
) STRICT;

-- A reading may be of a reference, too.  What a tongue says of one against a sample is a reading whose value is the sample's
-- g/L of sugar: kind 'sweeter_than', 'less_sweet_than'.
ALTER TABLE reading ADD COLUMN reference_id INTEGER REFERENCES reference (id);
CREATE INDEX reading_reference ON reading (reference_id);

-- The bytes of a picture, once each: found by what they are.  Not in the journal, which would hold them a second time: a deed
-- that adds a photo is taken back by taking away its row in `photo`; the bytes stay until book_sweep_pictures.
CREATE TABLE picture (
    id     INTEGER PRIMARY KEY AUTOINCREMENT,
    sha256 TEXT NOT NULL UNIQUE CHECK (length(sha256) = 64 AND sha256 NOT GLOB '*[^0-9a-f]*'),
    size   INTEGER NOT NULL CHECK (size BETWEEN 1 AND 8388608),
    data   BLOB NOT NULL CHECK (length(data) = size)
) STRICT;

-- A photo of a batch, a lot or a reference.  type: as the first bytes of the picture say.
CREATE TABLE photo (
    id           INTEGER PRIMARY KEY AUTOINCREMENT,
    batch_id     INTEGER REFERENCES batch (id),
    lot_id       INTEGER REFERENCES lot (id),
    reference_id INTEGER REFERENCES reference (id),
    at           TEXT NOT NULL CHECK (at GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]*' AND length(at) <= 16),
    words        TEXT NOT NULL DEFAULT '' CHECK (length(words) <= 1000),
    type         TEXT NOT NULL CHECK (type IN ('image/jpeg', 'image/png', 'image/webp')),
    picture_id   INTEGER NOT NULL REFERENCES picture (id),
    CHECK (batch_id IS NOT NULL OR lot_id IS NOT NULL OR reference_id IS NOT NULL)
) STRICT;
CREATE INDEX photo_batch ON photo (batch_id);
CREATE INDEX photo_lot ON photo (lot_id);
CREATE INDEX photo_reference ON photo (reference_id);
CREATE INDEX photo_picture ON photo (picture_id);
