// Where the maker lives, how much is poured and for whom: what worst cases are held against.  Remembered in this browser.

import { createContext } from "preact";
import type { HeldAgainst } from "./api.js";

/** "" is what the program takes when nobody says: the strictest of all places, the recipe's serving, 60 kg. */
export interface Who {
    place: string;
    serving_ml: string;
    body_weight_kg: string;
}

export const NOBODY: Who = { place: "", serving_ml: "", body_weight_kg: "" };
const KEY = "stillroom.who";

export function whoOf(text: string | null): Who {
    try {
        const kept = JSON.parse(text ?? "{}") as Partial<Record<keyof Who, unknown>>;
        const word = (x: unknown) => (typeof x === "string" && x.length <= 40 ? x : "");
        return { place: word(kept.place), serving_ml: word(kept.serving_ml), body_weight_kg: word(kept.body_weight_kg) };
    } catch {
        return NOBODY;
    }
}

// A browser may keep nothing, and says so by an exception: the choice then holds until the page is closed.
export function rememberedWho(): Who {
    try {
        return whoOf(localStorage.getItem(KEY));
    } catch {
        return NOBODY;
    }
}

export function rememberWho(who: Who): void {
    try {
        if (who.place || who.serving_ml || who.body_weight_kg) localStorage.setItem(KEY, JSON.stringify(who));
        else localStorage.removeItem(KEY);
    } catch {
        // it holds until the page is closed
    }
}

const GOES = {
    serving_ml: [0.1, 1000, "a serving is from 0.1 to 1000 mL"],
    body_weight_kg: [1, 400, "a person weighs from 1 to 400 kg"],
} as const;

/** Why a figure cannot be taken; "" when it can, or when nothing was filled in. */
export function wrongWith(name: "serving_ml" | "body_weight_kg", text: string): string {
    if (!text.trim()) return "";
    const n = Number(text.trim().replace(",", "."));
    const [low, high, why] = GOES[name];
    return n >= low && n <= high ? "" : why;
}

/** The members of a request; what was not said is left out. */
export function whoBody(who: Who): Record<string, string | number> {
    const out: Record<string, string | number> = {};
    if (who.place) out["place"] = who.place;
    for (const name of ["serving_ml", "body_weight_kg"] as const)
        if (who[name].trim() && !wrongWith(name, who[name])) out[name] = Number(who[name].trim().replace(",", "."));
    return out;
}

/** "every place, 40 mL, 60 kg" */
export function whoWords(held: HeldAgainst): string {
    return `${held.name}, ${held.serving_ml}\u00a0mL, ${held.body_weight_kg}\u00a0kg`;
}

export const AskedFor = createContext<{ who: Who; onWho: (who: Who) => void }>({ who: NOBODY, onWho: () => undefined });
