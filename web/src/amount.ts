// An amount as it is typed into a number box: "2 kg", "0.5 L", "1 lb", "1 1/2", "640".

interface Unit {
    words: RegExp;
    of: "g" | "mL" | "% vol" | "piece";
    by: number;
}

const UNITS: Unit[] = [
    { words: /^(kg|kilos?|kilograms?)$/i, of: "g", by: 1000 },
    { words: /^(g|grams?|grammes?)$/i, of: "g", by: 1 },
    { words: /^(lbs?|pounds?)$/i, of: "g", by: 453.59237 },
    { words: /^(oz|ounces?)$/i, of: "g", by: 28.349523125 },
    { words: /^(l|lit(re|er)s?)$/i, of: "mL", by: 1000 },
    { words: /^(dl|decilit(re|er)s?)$/i, of: "mL", by: 100 },
    { words: /^(cl|centilit(re|er)s?)$/i, of: "mL", by: 10 },
    { words: /^(ml|millilit(re|er)s?)$/i, of: "mL", by: 1 },
    { words: /^(%|% ?vol|abv|% ?abv)$/i, of: "% vol", by: 1 },
];

const MEASURED: Record<string, string> = {
    g: "weighed: g, kg, oz or lb",
    mL: "measured in mL, cL or L",
    "% vol": "a strength in % vol",
    piece: "counted",
    share: "a share",
};

export interface ReadAmount {
    value?: number; // in the unit that was asked for
    why?: string; // what is wrong with it
}

const FRACTION: Record<string, string> = {
    "¼": "1/4",
    "½": "1/2",
    "¾": "3/4",
    "⅓": "1/3",
    "⅔": "2/3",
    "⅛": "1/8",
};

/** "1 1/2" is one and a half; "1,5" and "1.5" are the same. */
function readPlain(text: string): number | null {
    const said = text.replace(/[¼½¾⅓⅔⅛]/g, (c) => ` ${FRACTION[c]}`).trim();
    const mixed = /^(?:(\d+)\s+)?(\d+)\/(\d+)$/.exec(said);
    if (mixed) return Number(mixed[3]) > 0 ? Number(mixed[1] ?? 0) + Number(mixed[2]) / Number(mixed[3]) : null;
    return /^\d+(?:[.,]\d+)?$/.test(said) ? Number(said.replace(",", ".")) : null;
}

/** The typed text in this unit (g, mL, % vol, piece); a bare number is of the unit itself. */
export function readAmount(text: string, unit: string): ReadAmount {
    const found = /^\s*([\d\s.,/¼½¾⅓⅔⅛]+?)\s*([^\d\s.,/].*)?$/.exec(text);
    const number = found ? readPlain(found[1]!) : null;
    if (!found || number === null) return { why: `"${text.trim()}" is no amount` };
    const word = (found[2] ?? "").trim();
    if (!word) return { value: number };
    const known = UNITS.find((u) => u.words.test(word));
    if (known && known.of === unit) return { value: Number((number * known.by).toFixed(3)) };
    if (known) return { why: `this is ${MEASURED[unit] ?? unit}` };
    return unit === "piece" ? { value: number } : { why: `"${word}" is no unit that is known here` };
}
