// The upright scale of a stem: what it spans, and where its ticks stand.

export interface Scale {
    min: number;
    max: number;
    step: number; // between numerals
    ticks: number[]; // with numerals
    half: number[]; // short ones between
    digits: number; // after the point
}

/** 1, 2 or 5 times a power of ten, at least x. */
export function roundStep(x: number): number {
    if (!(x > 0) || !Number.isFinite(x)) return 1;
    const ten = 10 ** Math.floor(Math.log10(x));
    for (const m of [1, 2, 5, 10]) if (m * ten >= x * (1 - 1e-9)) return m * ten;
    return 10 * ten;
}

/**
 * A scale about `low`..`high` (likely between) and the wish.  It spans about twice the wider of the two, so that a sure heap looks small
 * and a scattered one large; never below zero.  A figure that is exact gets a tenth of itself to either side.
 */
export function scaleAbout(low: number, high: number, wish?: readonly [number | null, number | null]): Scale {
    const ends = [low, high, ...(wish ?? [])].filter((x): x is number => x !== null && Number.isFinite(x));
    const bottom = Math.min(...ends);
    const top = Math.max(...ends);
    const wide = Math.max(top - bottom, Math.abs(top) * 0.05) || 1;
    const step = roundStep((1.9 * wide) / 6);
    const middle = (top + bottom) / 2;
    let min = Math.floor((middle - 0.95 * wide) / step) * step;
    if (min < 0 && bottom >= 0) min = 0;
    const max = Math.max(Math.ceil((middle + 0.95 * wide) / step) * step, min + 4 * step);
    return withTicks(min, max, step);
}

export function withTicks(min: number, max: number, step: number): Scale {
    const digits = Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
    const ticks: number[] = [];
    const half: number[] = [];
    const n = Math.round((max - min) / step);
    for (let i = 0; i <= n; i++) {
        ticks.push(Number((min + i * step).toFixed(digits + 2)));
        if (i < n) half.push(Number((min + (i + 0.5) * step).toFixed(digits + 3)));
    }
    return { min, max, step, ticks, half, digits };
}

/** True when a and b are near enough to keep an old scale while a slider moves. */
export function fits(scale: Scale, low: number, high: number): boolean {
    return low >= scale.min && high <= scale.max;
}
