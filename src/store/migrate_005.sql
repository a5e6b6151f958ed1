-- What house stock was made of: a tincture of a lot of walnuts and one of vodka.  A lot stands here once for each it is made of.
CREATE TABLE lot_of (
    id     INTEGER PRIMARY KEY AUTOINCREMENT,
    lot_id INTEGER NOT NULL REFERENCES lot (id), -- the tincture
    of_lot INTEGER NOT NULL REFERENCES lot (id), -- what it was made of
    UNIQUE (lot_id, of_lot)
) STRICT;
CREATE INDEX lot_of_of ON lot_of (of_lot);

-- Bottles that were opened and poured back: the lot of their batch that they became; NULL: somebody has them.
ALTER TABLE gone ADD COLUMN lot_id INTEGER REFERENCES lot (id);
CREATE INDEX gone_lot ON gone (lot_id);
