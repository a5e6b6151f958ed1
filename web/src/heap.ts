// Twenty pips on a stem: where each is drawn.  Pure geometry, in pixels; y grows upward here and is turned when drawn.

export interface Pip {
    x: number; // left edge
    y: number; // middle
    inside: boolean; // of the wish; true where there is none
}

export interface HeapInput {
    values: readonly number[]; // rising: the (i - 1/2)/20 quantiles
    wish?: readonly [number | null, number | null] | undefined;
    place: (value: number) => number; // onto the stem, rising
    pip: { width: number; height: number; gap: number };
    ends: readonly [number, number]; // of the stem, px
    most?: number; // pips in a row, where there is room for more rows
    clear?: number; // px kept free at each edge of the wish, for the line that is drawn there
}

interface Row {
    y: number;
    n: number;
    inside: boolean;
}

/** Is a value in the wish?  Ends belong to it. */
export function isInside(x: number, wish?: readonly [number | null, number | null]): boolean {
    if (!wish) return true;
    return (wish[0] === null || x >= wish[0]) && (wish[1] === null || x <= wish[1]);
}

/** Which side of the wish: -1 below, 0 inside, 1 above. */
function side(x: number, wish?: readonly [number | null, number | null]): number {
    if (!wish || isInside(x, wish)) return 0;
    return wish[0] !== null && x < wish[0] ? -1 : 1;
}

// Values nearer than one pip, on one side of every edge, make a row at their mean.
function rowsOf(values: readonly number[], input: HeapInput): Row[] {
    const rows: Row[] = [];
    let start = -Infinity;
    let sum = 0;
    let last = NaN;
    for (const value of values) {
        const y = input.place(value);
        const s = side(value, input.wish);
        const row = rows[rows.length - 1];
        if (row && s === last && y - start < input.pip.height) {
            sum += y;
            row.n++;
            row.y = sum / row.n;
        } else {
            rows.push({ y, n: 1, inside: s === 0 });
            start = y;
            sum = y;
            last = s;
        }
    }
    return rows;
}

// A row too long for the page becomes several, about where it was.
function split(rows: Row[], most: number, height: number): Row[] {
    return rows.flatMap((row) => {
        const k = Math.max(1, Math.ceil(row.n / most));
        return Array.from({ length: k }, (_, i) => ({
            y: row.y + (i - (k - 1) / 2) * height,
            n: Math.floor(row.n / k) + (i < row.n % k ? 1 : 0),
            inside: row.inside,
        }));
    });
}

// No more rows than fit between two edges: neighbours with the fewest pips are put together.
function fewer(rows: Row[], room: number): Row[] {
    const out = rows.map((r) => ({ ...r }));
    while (out.length > Math.max(1, room)) {
        let best = 0;
        for (let i = 1; i + 1 < out.length; i++)
            if (out[i]!.n + out[i + 1]!.n < out[best]!.n + out[best + 1]!.n) best = i;
        const [a, b] = [out[best]!, out[best + 1]!];
        out.splice(best, 2, { y: (a.y * a.n + b.y * b.n) / (a.n + b.n), n: a.n + b.n, inside: a.inside });
    }
    return out;
}

// Rows put together may have become too long: then all share alike, as far as that helps.
function level(rows: Row[], most: number): void {
    const all = rows.reduce((sum, r) => sum + r.n, 0);
    if (rows.every((r) => r.n <= most)) return;
    rows.forEach((r, i) => (r.n = Math.floor(all / rows.length) + (i < all % rows.length ? 1 : 0)));
}

// Rows pushed apart where they touch, within bottom..top; the middle of the group stays where it was as far as that
// goes.
function apart(rows: Row[], height: number, bottom: number, top: number): void {
    for (let i = 0; i < rows.length; i++) {
        const least = i === 0 ? bottom + height / 2 : rows[i - 1]!.y + height;
        if (rows[i]!.y < least) rows[i]!.y = least;
    }
    for (let i = rows.length - 1; i >= 0; i--) {
        const most = i === rows.length - 1 ? top - height / 2 : rows[i + 1]!.y - height;
        if (rows[i]!.y > most) rows[i]!.y = most;
    }
}

// The outermost pips are the ends of what is likely: no row is pushed beyond them, and none over an edge of the wish.
// `height` is that of a pip, `least` the height of the fewest rows that hold them: a narrow heap has longer rows first.
function within(
    at: number[],
    height: number,
    least: number,
    [first, last]: readonly [number, number],
    which: number,
): [number, number] {
    const from = Math.max(first, Math.min(...at) - height / 2);
    const to = Math.min(last, Math.max(...at) + height / 2);
    if (to - from >= least || last - first < least) return to - from >= least ? [from, to] : [first, last];
    if (which > 0) return [from, Math.min(last, from + least)];
    if (which < 0) return [Math.max(first, to - least), to];
    const bottom = Math.min(last - least, Math.max(first, (from + to - least) / 2));
    return [bottom, bottom + least];
}

/** The heap: one pip a value, in the order of the values. */
export function heap(input: HeapInput): Pip[] {
    const { wish, place, pip } = input;
    const [stemLow, stemHigh] = input.ends;
    const clear = input.clear ?? 0;
    const low = wish && wish[0] !== null ? place(wish[0]) : null;
    const high = wish && wish[1] !== null ? place(wish[1]) : null;
    const parts: [number, number, number][] = [
        [-1, Math.min(stemLow, low ?? stemLow), (low ?? stemLow) - clear],
        [0, low === null ? stemLow : low + clear, high === null ? stemHigh : high - clear],
        [1, (high ?? stemHigh) + clear, Math.max(stemHigh, high ?? stemHigh)],
    ];
    const out: Pip[] = [];
    for (const [which, first, last] of parts) {
        const mine = input.values.filter((v) => side(v, wish) === which);
        if (mine.length === 0) continue;
        const least = pip.height * Math.ceil(mine.length / (input.most ?? Infinity) || 1);
        const [from, to] = within(mine.map(place), pip.height, least, [first, last], which);
        const rows = fewer(
            split(rowsOf(mine, input), input.most ?? Infinity, pip.height),
            Math.floor((to - from) / pip.height + 1e-6),
        );
        level(rows, input.most ?? Infinity);
        if (to - from >= pip.height) apart(rows, pip.height, from, to);
        else for (const row of rows) row.y = (from + to) / 2;
        for (const row of rows)
            for (let i = 0; i < row.n; i++) out.push({ x: i * (pip.width + pip.gap), y: row.y, inside: row.inside });
    }
    return out;
}

/** How well a heap stands: pips that are in nobody's way, and none pushed beyond the outermost values. */
function isGood(pips: readonly Pip[], input: HeapInput, room: number): boolean {
    const { pip, values, place } = input;
    const slack = pip.height / 2;
    const [bottom, top] = [place(values[0]!) - slack, place(values[values.length - 1]!) + slack];
    const ys = [...new Set(pips.map((p) => p.y))].sort((a, b) => a - b);
    return (
        pips.every((p) => p.x + pip.width <= room + 1e-9 && p.y >= bottom - 1e-9 && p.y <= top + 1e-9) &&
        ys.every((y, i) => i === 0 || y - ys[i - 1]! >= pip.height - 1e-9) &&
        edgesOf(input).every((e) => ys.every((y) => Math.abs(y - e) >= pip.height / 2 + (input.clear ?? 0) - 1e-9))
    );
}

function edgesOf({ wish, place }: HeapInput): number[] {
    return [...(wish ?? [])].filter((e): e is number => e !== null).map(place);
}

export interface Fitted {
    pips: Pip[];
    pip: HeapInput["pip"];
}

/** The heap with the largest pips that keep clear of one another and of the wish; the smallest where none do. */
export function fitted(input: Omit<HeapInput, "most">, room: number, sizes: readonly number[]): Fitted {
    let found: Fitted | null = null;
    for (const size of sizes) {
        const pip = { width: input.pip.width * size, height: input.pip.height * size, gap: input.pip.gap };
        const most = Math.max(1, Math.floor((room + pip.gap) / (pip.width + pip.gap)));
        const sized = { ...input, pip, most };
        found = { pips: heap(sized), pip };
        if (input.values.length === 0 || isGood(found.pips, sized, room)) break;
    }
    return found ?? { pips: [], pip: input.pip };
}
