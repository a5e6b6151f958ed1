-- What lists sort and look up by, so that they stay quick with a hundred thousand readings (bench/bench_book.c).
CREATE INDEX reading_at ON reading (at);
CREATE INDEX gone_person ON gone (person);
