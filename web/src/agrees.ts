// Does my reading agree with what was foreseen?

import type { Figure } from "./figure.js";
import { rounded } from "./figure.js";

/**
 * The verdict first, then what was foreseen: two figures agree where what is likely of one meets what is likely of the
 * other.
 */
export function agreement(reading: Figure, foreseen: Figure, title: string): { verdict: string; side: string } {
    const r = rounded(foreseen);
    const side = `Foreseen for ${title}: ${r.value}${r.exact ? "" : `, likely between ${r.low} and ${r.high}`}.`;
    if (reading.low > foreseen.high) return { verdict: "Higher than foreseen.", side };
    if (reading.high < foreseen.low) return { verdict: "Lower than foreseen.", side };
    return { verdict: "It agrees.", side };
}
