-- The book: one SQLite file.  This step makes an empty one; later steps change it (migrate_002.sql, ...).
-- Days are ISO 8601 text, "2026-10-04"; moments "2026-10-04T18:30", as the maker's clock showed them.  Units stand in
-- the names.  NULL: not known, which is not 0 and not ''.  A row's id is never used again (AUTOINCREMENT).
-- Tables of what was entered come first; `foreseen` alone is computed, and can be made anew from the rest.

-- What the maker declared about the house and this book: place, currency, backups, demonstration.
CREATE TABLE setting (
    id    INTEGER PRIMARY KEY AUTOINCREMENT,
    name  TEXT NOT NULL UNIQUE CHECK (length(name) BETWEEN 1 AND 60),
    value TEXT NOT NULL CHECK (length(value) <= 4000)
) STRICT;

-- A jar, a bottle, a bowl that things stand in.
CREATE TABLE vessel (
    id        INTEGER PRIMARY KEY AUTOINCREMENT,
    name      TEXT NOT NULL UNIQUE CHECK (length(name) BETWEEN 1 AND 120),
    volume_ml REAL CHECK (volume_ml > 0 AND volume_ml < 1e7),
    empty_g   REAL CHECK (empty_g >= 0 AND empty_g < 1e7),
    note      TEXT NOT NULL DEFAULT '' CHECK (length(note) <= 4000)
) STRICT;

-- Something to eat or drink that the maker owns: bought, made ahead (tincture, syrup), or spent fruit kept for another use.
-- amount: at the start, in g, mL or pieces (dim); what is left is amount less lot_use.  words: as entered.
CREATE TABLE lot (
    id               INTEGER PRIMARY KEY AUTOINCREMENT,
    code             TEXT NOT NULL UNIQUE CHECK (length(code) BETWEEN 1 AND 40),
    kind             TEXT NOT NULL CHECK (kind IN ('bought', 'made', 'spent')),
    name             TEXT NOT NULL CHECK (length(name) BETWEEN 1 AND 200),
    slug             TEXT NOT NULL DEFAULT '' CHECK (length(slug) <= 100), -- of the ingredient sheet; '': not in it
    words            TEXT NOT NULL DEFAULT '' CHECK (length(words) <= 1000),
    dim              TEXT NOT NULL CHECK (dim IN ('g', 'mL', 'pieces')),
    amount           REAL NOT NULL CHECK (amount >= 0 AND amount < 1e9),
    gross            INTEGER CHECK (gross IN (0, 1)), -- weighed as bought (1) or trimmed (0)
    trimmed_share    REAL CHECK (trimmed_share > 0 AND trimmed_share <= 1),
    strength_pct_vol REAL CHECK (strength_pct_vol >= 0 AND strength_pct_vol <= 100),
    strength_u       REAL CHECK (strength_u >= 0 AND strength_u <= 50), -- standard uncertainty
    sugar_g_l        REAL CHECK (sugar_g_l >= 0 AND sugar_g_l < 1500),
    acid_g_l         REAL CHECK (acid_g_l >= 0 AND acid_g_l < 1500),
    potency          REAL CHECK (potency > 0 AND potency < 1000), -- against the one before; NULL: nobody compared
    since            TEXT CHECK (since GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'), -- bought or made
    bought_at        TEXT NOT NULL DEFAULT '' CHECK (length(bought_at) <= 200),
    price            REAL CHECK (price >= 0 AND price < 1e9),
    currency         TEXT NOT NULL DEFAULT '' CHECK (length(currency) <= 12),
    opened_on        TEXT CHECK (opened_on GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    use_by           TEXT CHECK (use_by GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    place            TEXT NOT NULL DEFAULT '' CHECK (length(place) <= 200), -- where it stands
    from_batch       INTEGER REFERENCES batch (id),
    ended_on         TEXT CHECK (ended_on GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'), -- used up, thrown away
    note             TEXT NOT NULL DEFAULT '' CHECK (length(note) <= 4000)
) STRICT;

-- What was taken from a lot, and what for.  amount < 0: more was there than thought.
CREATE TABLE lot_use (
    id       INTEGER PRIMARY KEY AUTOINCREMENT,
    lot_id   INTEGER NOT NULL REFERENCES lot (id),
    batch_id INTEGER REFERENCES batch (id),
    weighing_id INTEGER REFERENCES weighing (id),
    amount   REAL NOT NULL CHECK (abs(amount) < 1e9), -- in the lot's dim
    on_day   TEXT NOT NULL CHECK (on_day GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    why      TEXT NOT NULL CHECK (why IN ('batch', 'tasted', 'given', 'spilt', 'thrown', 'counted', 'poured')),
    note     TEXT NOT NULL DEFAULT '' CHECK (length(note) <= 1000)
) STRICT;
CREATE INDEX lot_use_lot ON lot_use (lot_id);
CREATE INDEX lot_use_batch ON lot_use (batch_id);
CREATE INDEX lot_batch ON lot (from_batch);

-- A recipe, and each try of it: the recipe file whole (YAML), and the free text it was read from.
CREATE TABLE recipe (
    id     INTEGER PRIMARY KEY AUTOINCREMENT,
    name   TEXT NOT NULL UNIQUE CHECK (length(name) BETWEEN 1 AND 200),
    since  TEXT NOT NULL CHECK (since GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    note   TEXT NOT NULL DEFAULT '' CHECK (length(note) <= 4000)
) STRICT;

-- side: name of a side line ("less sweet one"), '' the main one.  number counts within recipe and side line.
CREATE TABLE try (
    id        INTEGER PRIMARY KEY AUTOINCREMENT,
    recipe_id INTEGER NOT NULL REFERENCES recipe (id),
    side      TEXT NOT NULL DEFAULT '' CHECK (length(side) <= 120),
    number    INTEGER NOT NULL CHECK (number >= 1),
    from_try  INTEGER REFERENCES try (id), -- the one it was changed from
    on_day    TEXT NOT NULL CHECK (on_day GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    text      TEXT NOT NULL CHECK (length(text) BETWEEN 1 AND 1048576),
    said      TEXT NOT NULL DEFAULT '' CHECK (length(said) <= 1048576),
    note      TEXT NOT NULL DEFAULT '' CHECK (length(note) <= 4000),
    UNIQUE (recipe_id, side, number)
) STRICT;
CREATE INDEX try_from ON try (from_try);

-- One making.  text: the recipe file it was made by, as it was then; '' when nobody wrote one down.
CREATE TABLE batch (
    id         INTEGER PRIMARY KEY AUTOINCREMENT,
    code       TEXT NOT NULL UNIQUE CHECK (length(code) BETWEEN 1 AND 40),
    name       TEXT NOT NULL CHECK (length(name) BETWEEN 1 AND 200),
    try_id     INTEGER REFERENCES try (id),
    from_batch INTEGER REFERENCES batch (id),
    text       TEXT NOT NULL DEFAULT '' CHECK (length(text) <= 1048576),
    said       TEXT NOT NULL DEFAULT '' CHECK (length(said) <= 1048576), -- "what I did last month", as told
    begun_on   TEXT NOT NULL CHECK (begun_on GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    ended_on   TEXT CHECK (ended_on GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    note       TEXT NOT NULL DEFAULT '' CHECK (length(note) <= 4000)
) STRICT;
CREATE INDEX batch_try ON batch (try_id);
CREATE INDEX batch_begun ON batch (begun_on);

-- What stands where, since when, and when something is due.
CREATE TABLE jar (
    id        INTEGER PRIMARY KEY AUTOINCREMENT,
    batch_id  INTEGER NOT NULL REFERENCES batch (id),
    step      TEXT NOT NULL DEFAULT '' CHECK (length(step) <= 120), -- id of the recipe's step
    doing     TEXT NOT NULL DEFAULT '' CHECK (length(doing) <= 200), -- "steeping", "settling"
    vessel_id INTEGER REFERENCES vessel (id),
    place     TEXT NOT NULL DEFAULT '' CHECK (length(place) <= 200),
    begun_on  TEXT NOT NULL CHECK (begun_on GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    due_on    TEXT CHECK (due_on GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    ended_on  TEXT CHECK (ended_on GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    note      TEXT NOT NULL DEFAULT '' CHECK (length(note) <= 4000)
) STRICT;
CREATE INDEX jar_batch ON jar (batch_id);
CREATE INDEX jar_open ON jar (due_on) WHERE ended_on IS NULL;

-- What really went in, in the place of what the recipe's line says.  line counts from 1 within the step; 0: not in the recipe.
CREATE TABLE weighing (
    id       INTEGER PRIMARY KEY AUTOINCREMENT,
    batch_id INTEGER NOT NULL REFERENCES batch (id),
    step     TEXT NOT NULL DEFAULT '' CHECK (length(step) <= 120),
    line     INTEGER NOT NULL CHECK (line >= 0 AND line <= 1000),
    words    TEXT NOT NULL CHECK (length(words) BETWEEN 1 AND 1000), -- "412 g", or the whole line when line is 0
    lot_id   INTEGER REFERENCES lot (id),
    on_day   TEXT NOT NULL CHECK (on_day GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    note     TEXT NOT NULL DEFAULT '' CHECK (length(note) <= 1000)
) STRICT;
CREATE INDEX weighing_batch ON weighing (batch_id);
CREATE INDEX weighing_lot ON weighing (lot_id);

-- One figure that was read of a batch or of a lot; kind: keys of model/observation.h.
CREATE TABLE reading (
    id              INTEGER PRIMARY KEY AUTOINCREMENT,
    batch_id        INTEGER REFERENCES batch (id),
    lot_id          INTEGER REFERENCES lot (id),
    step            TEXT NOT NULL DEFAULT '' CHECK (length(step) <= 120),
    kind            TEXT NOT NULL CHECK (length(kind) BETWEEN 1 AND 40),
    value           REAL NOT NULL,
    sd              REAL CHECK (sd >= 0), -- NULL: usual for the kind
    at              TEXT NOT NULL CHECK (at GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]*' AND length(at) <= 16),
    temperature_c   REAL CHECK (temperature_c > -100 AND temperature_c < 200),
    of              TEXT NOT NULL DEFAULT '' CHECK (length(of) <= 200), -- the ingredient it speaks of
    by_whom         TEXT NOT NULL DEFAULT '' CHECK (length(by_whom) <= 120),
    after_straining INTEGER NOT NULL DEFAULT 0 CHECK (after_straining IN (0, 1)),
    words           TEXT NOT NULL DEFAULT '' CHECK (length(words) <= 1000),
    doubted         INTEGER NOT NULL DEFAULT 0 CHECK (doubted IN (0, 1)) -- the maker does not trust it: shown, not used
) STRICT;
CREATE INDEX reading_batch ON reading (batch_id);
CREATE INDEX reading_lot ON reading (lot_id);

-- What went elsewhere than into a bottle.
CREATE TABLE loss (
    id               INTEGER PRIMARY KEY AUTOINCREMENT,
    batch_id         INTEGER NOT NULL REFERENCES batch (id),
    step             TEXT NOT NULL DEFAULT '' CHECK (length(step) <= 120),
    on_day           TEXT NOT NULL CHECK (on_day GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    why              TEXT NOT NULL CHECK (why IN ('spilt', 'lees', 'filter', 'tasted', 'drawn', 'thrown', 'evaporated', 'other')),
    volume_ml        REAL CHECK (volume_ml >= 0 AND volume_ml < 1e9),
    mass_g           REAL CHECK (mass_g >= 0 AND mass_g < 1e9),
    strength_pct_vol REAL CHECK (strength_pct_vol >= 0 AND strength_pct_vol <= 100),
    note             TEXT NOT NULL DEFAULT '' CHECK (length(note) <= 1000)
) STRICT;
CREATE INDEX loss_batch ON loss (batch_id);

-- What was filled into bottles.  facts: what the label says, a JSON document, frozen on that day.
CREATE TABLE bottling (
    id       INTEGER PRIMARY KEY AUTOINCREMENT,
    batch_id INTEGER NOT NULL REFERENCES batch (id),
    code     TEXT NOT NULL UNIQUE CHECK (length(code) BETWEEN 1 AND 40),
    on_day   TEXT NOT NULL CHECK (on_day GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    size_ml  REAL NOT NULL CHECK (size_ml > 0 AND size_ml < 1e6),
    count    INTEGER NOT NULL CHECK (count >= 1 AND count <= 100000),
    strength_pct_vol REAL CHECK (strength_pct_vol >= 0 AND strength_pct_vol <= 100),
    facts    TEXT NOT NULL DEFAULT '' CHECK (length(facts) <= 262144),
    use_by   TEXT CHECK (use_by GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    note     TEXT NOT NULL DEFAULT '' CHECK (length(note) <= 4000)
) STRICT;
CREATE INDEX bottling_batch ON bottling (batch_id);

-- Where bottles went.  liked: -1 no, 0 so-so, 1 yes; NULL nobody said.  told_on: rung about something wrong with it.
CREATE TABLE gone (
    id          INTEGER PRIMARY KEY AUTOINCREMENT,
    bottling_id INTEGER NOT NULL REFERENCES bottling (id),
    count       INTEGER NOT NULL CHECK (count >= 1 AND count <= 100000),
    on_day      TEXT NOT NULL CHECK (on_day GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    person      TEXT NOT NULL CHECK (length(person) BETWEEN 1 AND 200),
    returned    INTEGER NOT NULL DEFAULT 0 CHECK (returned >= 0 AND returned <= count),
    returned_on TEXT CHECK (returned_on GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    liked       INTEGER CHECK (liked IN (-1, 0, 1)),
    told_on     TEXT CHECK (told_on GLOB '[12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    note        TEXT NOT NULL DEFAULT '' CHECK (length(note) <= 1000)
) STRICT;
CREATE INDEX gone_bottling ON gone (bottling_id);

-- Computed: what a try or a batch was foretold to be (keys of model/foresee.h), by which version of the program.
CREATE TABLE foreseen (
    id       INTEGER PRIMARY KEY AUTOINCREMENT,
    try_id   INTEGER REFERENCES try (id),
    batch_id INTEGER REFERENCES batch (id),
    key      TEXT NOT NULL CHECK (length(key) BETWEEN 1 AND 60),
    value    REAL NOT NULL,
    low      REAL NOT NULL,
    high     REAL NOT NULL,
    status   TEXT NOT NULL DEFAULT 'ok' CHECK (length(status) <= 20),
    program  TEXT NOT NULL CHECK (length(program) <= 60)
) STRICT;
CREATE INDEX foreseen_try ON foreseen (try_id);
CREATE INDEX foreseen_batch ON foreseen (batch_id);

-- The journal: one row a deed of the maker.  changes: the changeset of all tables above (SQLite session extension); its
-- inverse undoes the deed.  undoes: the deed that this one took back.
CREATE TABLE deed (
    id      INTEGER PRIMARY KEY AUTOINCREMENT,
    at      TEXT NOT NULL,
    words   TEXT NOT NULL CHECK (length(words) <= 400),
    changes BLOB NOT NULL,
    undoes  INTEGER UNIQUE REFERENCES deed (id)
) STRICT;
