-- Finding by words: one index over what was written of lots, recipes, tries, batches, bottles, readings, photos, references.
-- It keeps its own copy of the text, so that no trigger has to tell it what stood there before: a wrong word there would
-- spoil the index.  Its rows are numbered KIND * 2^40 + id; kinds that are few, and looked for most, have large
-- numbers, so that they come first where there are too many finds to rank them all (search.c).

-- Letters are found without their marks, too.
CREATE VIRTUAL TABLE search USING fts5 (
    title, words,
    tokenize = "unicode61 remove_diacritics 2",
    prefix = '2 3'
);

-- What it should hold: to fill it, and to look whether it does (check.c).
CREATE VIEW search_source (key, title, words) AS
    SELECT 9 * 1099511627776 + id, name,
            note
        FROM reference WHERE name || note <> ''
    UNION ALL
    SELECT 8 * 1099511627776 + id, name,
            note
        FROM recipe WHERE name || note <> ''
    UNION ALL
    SELECT 7 * 1099511627776 + id, side,
            text || ' ' || said || ' ' || note
        FROM try WHERE side || text || said || note <> ''
    UNION ALL
    SELECT 6 * 1099511627776 + id, name,
            code || ' ' || slug || ' ' || words || ' ' || bought_at || ' ' || place || ' ' || note
        FROM lot WHERE name || code || slug || words || bought_at || place || note <> ''
    UNION ALL
    SELECT 5 * 1099511627776 + id, name,
            code || ' ' || text || ' ' || said || ' ' || note
        FROM batch WHERE name || code || text || said || note <> ''
    UNION ALL
    SELECT 4 * 1099511627776 + id, code,
            note
        FROM bottling WHERE code || note <> ''
    UNION ALL
    SELECT 3 * 1099511627776 + id, person,
            note
        FROM gone WHERE person || note <> ''
    UNION ALL
    SELECT 2 * 1099511627776 + id, of,
            words || ' ' || by_whom
        FROM reading WHERE of || words || by_whom <> ''
    UNION ALL
    SELECT 1 * 1099511627776 + id, '',
            words
        FROM photo WHERE words <> '';

INSERT INTO search (rowid, title, words) SELECT key, title, words FROM search_source;

-- What is entered, changed and taken away, by deeds and by undo alike.
CREATE TRIGGER search_reference_in AFTER INSERT ON reference
    WHEN new.name || new.note <> ''
BEGIN
    INSERT INTO search (rowid, title, words)
        VALUES (9 * 1099511627776 + new.id, new.name,
            new.note);
END;
CREATE TRIGGER search_reference_new AFTER UPDATE OF name, note ON reference
BEGIN
    DELETE FROM search WHERE rowid = 9 * 1099511627776 + old.id;
    INSERT INTO search (rowid, title, words)
        SELECT 9 * 1099511627776 + new.id, new.name,
            new.note
            WHERE new.name || new.note <> '';
END;
CREATE TRIGGER search_reference_out AFTER DELETE ON reference
BEGIN
    DELETE FROM search WHERE rowid = 9 * 1099511627776 + old.id;
END;

CREATE TRIGGER search_recipe_in AFTER INSERT ON recipe
    WHEN new.name || new.note <> ''
BEGIN
    INSERT INTO search (rowid, title, words)
        VALUES (8 * 1099511627776 + new.id, new.name,
            new.note);
END;
CREATE TRIGGER search_recipe_new AFTER UPDATE OF name, note ON recipe
BEGIN
    DELETE FROM search WHERE rowid = 8 * 1099511627776 + old.id;
    INSERT INTO search (rowid, title, words)
        SELECT 8 * 1099511627776 + new.id, new.name,
            new.note
            WHERE new.name || new.note <> '';
END;
CREATE TRIGGER search_recipe_out AFTER DELETE ON recipe
BEGIN
    DELETE FROM search WHERE rowid = 8 * 1099511627776 + old.id;
END;

CREATE TRIGGER search_try_in AFTER INSERT ON try
    WHEN new.side || new.text || new.said || new.note <> ''
BEGIN
    INSERT INTO search (rowid, title, words)
        VALUES (7 * 1099511627776 + new.id, new.side,
            new.text || ' ' || new.said || ' ' || new.note);
END;
CREATE TRIGGER search_try_new AFTER UPDATE OF side, text, said, note ON try
BEGIN
    DELETE FROM search WHERE rowid = 7 * 1099511627776 + old.id;
    INSERT INTO search (rowid, title, words)
        SELECT 7 * 1099511627776 + new.id, new.side,
            new.text || ' ' || new.said || ' ' || new.note
            WHERE new.side || new.text || new.said || new.note <> '';
END;
CREATE TRIGGER search_try_out AFTER DELETE ON try
BEGIN
    DELETE FROM search WHERE rowid = 7 * 1099511627776 + old.id;
END;

CREATE TRIGGER search_lot_in AFTER INSERT ON lot
    WHEN new.name || new.code || new.slug || new.words || new.bought_at || new.place || new.note <> ''
BEGIN
    INSERT INTO search (rowid, title, words)
        VALUES (6 * 1099511627776 + new.id, new.name,
            new.code || ' ' || new.slug || ' ' || new.words || ' ' || new.bought_at || ' ' || new.place || ' ' || new.note);
END;
CREATE TRIGGER search_lot_new AFTER UPDATE OF name, code, slug, words, bought_at, place, note ON lot
BEGIN
    DELETE FROM search WHERE rowid = 6 * 1099511627776 + old.id;
    INSERT INTO search (rowid, title, words)
        SELECT 6 * 1099511627776 + new.id, new.name,
            new.code || ' ' || new.slug || ' ' || new.words || ' ' || new.bought_at || ' ' || new.place || ' ' || new.note
            WHERE new.name || new.code || new.slug || new.words || new.bought_at || new.place || new.note <> '';
END;
CREATE TRIGGER search_lot_out AFTER DELETE ON lot
BEGIN
    DELETE FROM search WHERE rowid = 6 * 1099511627776 + old.id;
END;

CREATE TRIGGER search_batch_in AFTER INSERT ON batch
    WHEN new.name || new.code || new.text || new.said || new.note <> ''
BEGIN
    INSERT INTO search (rowid, title, words)
        VALUES (5 * 1099511627776 + new.id, new.name,
            new.code || ' ' || new.text || ' ' || new.said || ' ' || new.note);
END;
CREATE TRIGGER search_batch_new AFTER UPDATE OF name, code, text, said, note ON batch
BEGIN
    DELETE FROM search WHERE rowid = 5 * 1099511627776 + old.id;
    INSERT INTO search (rowid, title, words)
        SELECT 5 * 1099511627776 + new.id, new.name,
            new.code || ' ' || new.text || ' ' || new.said || ' ' || new.note
            WHERE new.name || new.code || new.text || new.said || new.note <> '';
END;
CREATE TRIGGER search_batch_out AFTER DELETE ON batch
BEGIN
    DELETE FROM search WHERE rowid = 5 * 1099511627776 + old.id;
END;

CREATE TRIGGER search_bottling_in AFTER INSERT ON bottling
    WHEN new.code || new.note <> ''
BEGIN
    INSERT INTO search (rowid, title, words)
        VALUES (4 * 1099511627776 + new.id, new.code,
            new.note);
END;
CREATE TRIGGER search_bottling_new AFTER UPDATE OF code, note ON bottling
BEGIN
    DELETE FROM search WHERE rowid = 4 * 1099511627776 + old.id;
    INSERT INTO search (rowid, title, words)
        SELECT 4 * 1099511627776 + new.id, new.code,
            new.note
            WHERE new.code || new.note <> '';
END;
CREATE TRIGGER search_bottling_out AFTER DELETE ON bottling
BEGIN
    DELETE FROM search WHERE rowid = 4 * 1099511627776 + old.id;
END;

CREATE TRIGGER search_gone_in AFTER INSERT ON gone
    WHEN new.person || new.note <> ''
BEGIN
    INSERT INTO search (rowid, title, words)
        VALUES (3 * 1099511627776 + new.id, new.person,
            new.note);
END;
CREATE TRIGGER search_gone_new AFTER UPDATE OF person, note ON gone
BEGIN
    DELETE FROM search WHERE rowid = 3 * 1099511627776 + old.id;
    INSERT INTO search (rowid, title, words)
        SELECT 3 * 1099511627776 + new.id, new.person,
            new.note
            WHERE new.person || new.note <> '';
END;
CREATE TRIGGER search_gone_out AFTER DELETE ON gone
BEGIN
    DELETE FROM search WHERE rowid = 3 * 1099511627776 + old.id;
END;

CREATE TRIGGER search_reading_in AFTER INSERT ON reading
    WHEN new.of || new.words || new.by_whom <> ''
BEGIN
    INSERT INTO search (rowid, title, words)
        VALUES (2 * 1099511627776 + new.id, new.of,
            new.words || ' ' || new.by_whom);
END;
CREATE TRIGGER search_reading_new AFTER UPDATE OF "of", words, by_whom ON reading
BEGIN
    DELETE FROM search WHERE rowid = 2 * 1099511627776 + old.id;
    INSERT INTO search (rowid, title, words)
        SELECT 2 * 1099511627776 + new.id, new.of,
            new.words || ' ' || new.by_whom
            WHERE new.of || new.words || new.by_whom <> '';
END;
CREATE TRIGGER search_reading_out AFTER DELETE ON reading
BEGIN
    DELETE FROM search WHERE rowid = 2 * 1099511627776 + old.id;
END;

CREATE TRIGGER search_photo_in AFTER INSERT ON photo
    WHEN new.words <> ''
BEGIN
    INSERT INTO search (rowid, title, words)
        VALUES (1 * 1099511627776 + new.id, '',
            new.words);
END;
CREATE TRIGGER search_photo_new AFTER UPDATE OF words ON photo
BEGIN
    DELETE FROM search WHERE rowid = 1 * 1099511627776 + old.id;
    INSERT INTO search (rowid, title, words)
        SELECT 1 * 1099511627776 + new.id, '',
            new.words
            WHERE new.words <> '';
END;
CREATE TRIGGER search_photo_out AFTER DELETE ON photo
BEGIN
    DELETE FROM search WHERE rowid = 1 * 1099511627776 + old.id;
END;
