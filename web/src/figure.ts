// A figure in words, by the rule of the house: the half width is rounded to one figure (two if it starts with 1), the
// value to the same place, the ends outward.

export interface Figure {
    value: number;
    low: number;
    high: number;
    status: "ok" | "extrapolated" | "estimated";
}

export interface Rounded {
    value: string;
    low: string;
    high: string;
    exact: boolean;
    place: number; // power of ten of the last digit
}

/** Power of ten to which a figure with this half width is told. */
export function placeOf(half: number): number {
    if (!(half > 0)) return -2;
    const ten = Math.floor(Math.log10(half) + 1e-12);
    return half / 10 ** ten < 1.95 ? ten - 1 : ten;
}

export function toPlace(x: number, place: number, how: "near" | "down" | "up" = "near"): string {
    const unit = 10 ** place;
    const ratio = x / unit;
    const slack = 1e-9 * Math.max(1, Math.abs(ratio));
    const whole =
        how === "near" ? Math.round(ratio) : how === "down" ? Math.floor(ratio + slack) : Math.ceil(ratio - slack);
    return (whole * unit).toFixed(Math.max(0, -place));
}

export function rounded(figure: Figure): Rounded {
    const { value, low, high } = figure;
    if (!(high > low)) {
        const place = Math.min(0, Math.max(-2, Math.floor(Math.log10(Math.abs(value) || 1)) - 2));
        const text = toPlace(value, place);
        return { value: text, low: text, high: text, exact: true, place };
    }
    const place = placeOf((high - low) / 2);
    return {
        value: toPlace(value, place),
        low: toPlace(Math.max(low, 0), place, "down"),
        high: toPlace(high, place, "up"),
        exact: false,
        place,
    };
}
