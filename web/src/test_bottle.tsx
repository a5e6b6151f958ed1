// Test my bottle: readings of a sweetened liquid, told as strength and sugar.

import { useEffect, useState } from "preact/hooks";
import { agreement } from "./agrees.js";
import type { Foretold, Gauged, Problem, Wish } from "./api.js";
import { post } from "./api.js";
import { rangeOf, readNumber, readRange } from "./blank.js";
import { Field } from "./field.js";
import { CautionBox, cap, isGone, Likely, Problems, problemsOf, Waiting } from "./parts.js";
import type { Figure } from "./figure.js";
import { rounded } from "./figure.js";
import { Cite, numbered, WithSources } from "./sources.js";
import { TwoFigures } from "./two.js";

const MAIN = [
    ["sg", "Hydrometer", "sinks to, such as 1.057"],
    ["brix", "Refractometer", "shows, °Brix"],
    ["temperature_c", "Warmth of the liquor", "°C, or write 68 F"],
] as const;

const MORE = [
    ["strength_pct_vol", "Strength, if it is known", "% vol; instead of one reading"],
    ["sugar_g_l", "Sugar, if it is known", "g/L; instead of one reading"],
    ["sg_boiled", "Hydrometer after boiling", "alcohol boiled off, made up with water"],
    ["flask_ml", "A flask holds", "mL; weighed full, instead of the hydrometer"],
    ["flask_g", "What is in it weighs", "g, without the flask"],
    ["sg_step", "One mark of the hydrometer", "0.002 where you do not say"],
    ["brix_step", "One mark of the refractometer", "0.2 where you do not say"],
] as const;

// Any two of these, or one and a weighed flask.
const SECOND = ["sg", "brix", "sg_boiled", "strength_pct_vol", "sugar_g_l"];

type Readings = Record<string, string>;

/** What a figure can be, as /api/gauge takes it, and its unit. */
const GOES: Record<string, readonly [number, number, string]> = {
    sg: [0.7, 1.7, ""],
    sg_boiled: [0.7, 1.7, ""],
    brix: [-5, 85, " °Brix"],
    strength_pct_vol: [0, 100, " % vol"],
    sugar_g_l: [0, 1000, " g/L"],
    flask_ml: [0.1, 1e5, " mL"],
    flask_g: [0.1, 1e5, " g"],
    sg_step: [0.00001, 0.1, ""],
    brix_step: [0.001, 5, " °Brix"],
};

function labelOf(name: string): string {
    return [...MAIN, ...MORE].find(([n]) => n === name)?.[1].toLowerCase() ?? name;
}

/** Why a figure cannot be what that instrument shows; "1043" is most often 1.043. */
function outside(name: string, n: number): Problem | null {
    const goes = GOES[name];
    if (!goes || (n >= goes[0] && n <= goes[1])) return null;
    const point = name.startsWith("sg") && name !== "sg_step" && n >= 700 && n <= 1700;
    return {
        file: name,
        what: point ? `${labelOf(name)}: did you mean ${n / 1000}?` : `${labelOf(name)}: ${n} cannot be`,
        why: `it goes from ${goes[0]} to ${goes[1]}${goes[2]}`,
        try: point ? `write ${n / 1000}` : "look at the scale once more",
    };
}

/** Names of a request, which the program may say back, as the page calls them. */
export function withLabels(p: Problem): Problem {
    const names = [...MAIN, ...MORE].map((f) => f[0]).sort((a, b) => b.length - a.length);
    const plain = (text?: string) =>
        text
            ?.replace(new RegExp(`"?\\b(${names.join("|")})\\b"?`, "g"), (_, n: string) => labelOf(n))
            .replace(/; \/api\/mix works forwards/, "");
    return {
        ...p,
        what: plain(p.what) ?? "",
        ...(p.why ? { why: plain(p.why)! } : {}),
        ...(p.try ? { try: plain(p.try)! } : {}),
    };
}

/** The warmth of a liquor, in °C: "20", "20 °C", "68 F"; or why it cannot be. */
export function readWarmth(text: string): { value?: number; why?: string } {
    const found = /^\s*([-−]?\d+(?:[.,]\d+)?)\s*(?:°|º|deg(?:rees)?)?\s*([cf])?\s*$/i.exec(text);
    if (!found) return { why: "a warmth is a number, with C or F behind it" };
    const n = Number(found[1]!.replace("−", "-").replace(",", "."));
    const isF = /f/i.test(found[2] ?? "");
    const value = isF ? Number((((n - 32) * 5) / 9).toFixed(2)) : n;
    if (value < 0) return { why: `at ${text.trim()} it is colder than ice, and neither instrument reads that` };
    if (value >= 40)
        return {
            why: isF || n < 50 || n > 100 ? "that is too warm to read" : `${n} °C is too warm to read; in Fahrenheit it is ${n} F`,
        };
    return { value };
}

/** What is asked: figures as numbers, and what is not one told at its field. */
export function bodyOf(
    readings: Readings,
    is60: boolean,
    noAtc: boolean,
): { body: Record<string, unknown>; problems: Problem[] } {
    const body: Record<string, unknown> = {};
    const problems: Problem[] = [];
    for (const [name, text] of Object.entries(readings)) {
        if (!text.trim()) continue;
        if (name === "temperature_c") {
            const { value, why } = readWarmth(text);
            if (value !== undefined) body[name] = value;
            else problems.push({ file: name, what: `"${text}" cannot be the warmth`, why: why ?? "", try: "20, or 68 F" });
            continue;
        }
        const n = /[-−]\s*\d/.test(text) ? null : readNumber(text);
        if (n === null)
            problems.push({ file: name, what: `"${text}" is not a figure`, try: "digits, with a point or a comma" });
        else {
            const problem = outside(name, n);
            if (problem) problems.push(problem);
            else body[name] = n;
        }
    }
    const told = SECOND.filter((n) => n in body).length + ("flask_ml" in body && "flask_g" in body ? 1 : 0);
    if (problems.length === 0 && told < 2)
        problems.push({
            file: "sg" in body ? "brix" : "sg",
            what: told === 0 ? "No reading is filled in" : "One reading is not enough",
            why: "alcohol makes a liquor lighter and sugar makes it heavier, so one reading fits many bottles",
            try: "fill in two of them",
        });
    if (is60) body["hydrometer"] = "60F";
    if (noAtc) body["atc"] = false;
    return { body, problems };
}

interface ResultProps {
    name: string;
    unit: string;
    figure: Figure | null;
    foreseen: Figure | undefined;
    title: string;
}

function Result({ name, unit, figure, foreseen, title }: ResultProps) {
    if (!figure) return null;
    const against = foreseen ? agreement(figure, foreseen, title) : null;
    return (
        <div class="result">
            <p class="label">
                {name} <Cite of={name.toLowerCase()} />
            </p>
            <p class="figure">
                <b>{rounded(figure).value}</b> <span class="unit">{unit}</span>
                {figure.status === "extrapolated" ? <span class="guess">guess</span> : null}
            </p>
            <Likely figure={figure} />
            {against ? (
                <p class="side">
                    <b>{against.verdict}</b> {against.side}
                </p>
            ) : null}
        </div>
    );
}

/** What the voice says when a bottle was tested. */
export function spokenTest(got: Gauged | null): string {
    if (!got) return "";
    const likely = (f: Figure) => {
        const r = rounded(f);
        return `${r.value}${r.exact ? "" : `, likely between ${r.low} and ${r.high}`}`;
    };
    const first = got.verdict === "ok" ? "These readings go together." : `Read once more. ${cap(got.because ?? "")}.`;
    const strength = got.strength_pct_vol ? ` Strength ${likely(got.strength_pct_vol)} per cent by volume.` : "";
    return `${first}${strength}${got.sugar_g_l ? ` Sugar ${likely(got.sugar_g_l)} grams a litre.` : ""}`;
}

function Verdict({ got }: { got: Gauged }) {
    return (
        <div class="verdict">
            <p>
                <b>
                    {got.verdict === "ok"
                        ? "These readings go together."
                        : got.strength_pct_vol
                          ? "Nearly: read once more."
                          : "Read once more."}
                </b>{" "}
                {got.verdict === "again" && got.because ? `${cap(got.because)}. ` : ""}
                {got.verdict === "again" && got.try ? `Try this: ${got.try}.` : ""}
            </p>
        </div>
    );
}

interface WantedText {
    strength: string;
    sugar: string;
}

function Wanted({ wish, onWish }: { wish: WantedText; onWish: (w: WantedText) => void }) {
    const blank = (name: keyof WantedText, label: string, size: number) => (
        <span class="blank">
            <input
                aria-label={label}
                placeholder="any"
                size={size}
                value={wish[name]}
                onInput={(e) => onWish({ ...wish, [name]: e.currentTarget.value })}
            />
        </span>
    );
    return (
        <p class="sentence">
            I wanted {blank("strength", "Strength wanted, % vol", 8)} %&#8239;vol and{" "}
            {blank("sugar", "Sugar wanted, g/L", 9)} g/L
        </p>
    );
}

/** What was filled in, kept while another page is open. */
export interface Tested {
    readings: Readings;
    is60: boolean;
    noAtc: boolean;
    got: Gauged | null;
    wish: WantedText;
}

export function TestBottle({ foreseen, kept }: { foreseen: Foretold | null; kept: { current: Tested | null } }) {
    const [readings, setReadings] = useState<Readings>(kept.current?.readings ?? { temperature_c: "20" });
    const [is60, setIs60] = useState(kept.current?.is60 ?? false);
    const [noAtc, setNoAtc] = useState(kept.current?.noAtc ?? false);
    const [got, setGot] = useState<Gauged | null>(kept.current?.got ?? null);
    const [problems, setProblems] = useState<Problem[]>([]);
    const [busy, setBusy] = useState(false);
    const [wish, setWish] = useState(kept.current?.wish ?? { strength: "", sugar: "" });
    useEffect(() => {
        kept.current = { readings, is60, noAtc, got, wish };
    }, [readings, is60, noAtc, got, wish]);
    const range = (name: keyof Wish, text: string) => rangeOf(name, readRange(text) ?? undefined);

    async function test() {
        const { body, problems: wrong } = bodyOf(readings, is60, noAtc);
        setProblems(wrong);
        if (wrong.length > 0) return;
        setBusy(true);
        try {
            setGot(await post<Gauged>("/api/gauge", body));
        } catch (x) {
            const told = problemsOf(x);
            if (!isGone(told)) setGot(null);
            setProblems(told.map(withLabels));
        } finally {
            setBusy(false);
        }
    }

    const fieldNames: string[] = [...MAIN, ...MORE].map((f) => f[0]);
    const field = ([name, label, side]: readonly [string, string, string]) => (
        <Field
            name={name}
            label={label}
            side={side}
            value={readings[name] ?? ""}
            problems={problems}
            onInput={(v) => setReadings({ ...readings, [name]: v })}
        />
    );
    return (
        <WithSources list={numbered(got?.sources ?? [], [])}>
            <form
                class="page test"
                onSubmit={(e) => {
                    e.preventDefault();
                    void test();
                }}
                noValidate
            >
                <h1 tabIndex={-1}>Test my bottle</h1>
                <p class="soft">
                    A hydrometer alone cannot tell sugar from alcohol. Two readings can: how dense the liquor is, and how it
                    bends light.
                </p>
                <div class="spread">
                    <div class="left">
                        <div class="readings">{MAIN.map(field)}</div>
                        <details>
                            <summary>Other instruments, and what you know</summary>
                            <div class="readings">{MORE.map(field)}</div>
                            <label class="check">
                                <input type="checkbox" checked={is60} onChange={(e) => setIs60(e.currentTarget.checked)} />{" "}
                                My hydrometer is made for 60&#8239;°F
                            </label>
                            <label class="check">
                                <input
                                    type="checkbox"
                                    checked={noAtc}
                                    onChange={(e) => setNoAtc(e.currentTarget.checked)}
                                />{" "}
                                My refractometer does not correct for warmth
                            </label>
                        </details>
                        <Problems
                            problems={problems.filter((q) => !fieldNames.includes(q.file ?? ""))}
                            onAgain={() => void test()}
                        />
                        <Waiting on={busy}>Working it out ...</Waiting>
                        {got ? (
                            <div class="results">
                                <Verdict got={got} />
                                {got.assumed ? <p class="side">{cap(got.assumed)}.</p> : null}
                                <Result
                                    name="Strength"
                                    unit="% vol"
                                    figure={got.strength_pct_vol}
                                    foreseen={foreseen?.strength_pct_vol}
                                    title={foreseen?.title ?? ""}
                                />
                                <Result
                                    name="Sugar"
                                    unit="g/L"
                                    figure={got.sugar_g_l}
                                    foreseen={foreseen?.sugar_g_l}
                                    title={foreseen?.title ?? ""}
                                />
                                {got.cautions.map((c) => (
                                    <CautionBox caution={c} />
                                ))}
                                <details>
                                    <summary>How this is worked out</summary>
                                    <p>
                                        Strength and sugar are changed until a liquid of water, alcohol and sugar would show
                                        both your readings. By: {got.method ?? "your readings"}.
                                    </p>
                                    {got.source?.length ? (
                                        <p>Sources: {got.source.map((s) => `[${s}]`).join(" ")}</p>
                                    ) : null}
                                    <p class="soft">
                                        Fruit, cream or pulp in the liquor moves both readings. Figures are for information,
                                        not an assay.
                                    </p>
                                </details>
                            </div>
                        ) : null}
                    </div>
                    <div class="right">
                        {got?.strength_pct_vol && got.sugar_g_l ? (
                            <>
                                <Wanted wish={wish} onWish={setWish} />
                                <TwoFigures
                                    strength={got.strength_pct_vol}
                                    sugar={got.sugar_g_l}
                                    joint={got.joint}
                                    wish={{
                                        strength: range("strength_pct_vol", wish.strength),
                                        sugar: range("sugar_g_l", wish.sugar),
                                    }}
                                />
                            </>
                        ) : (
                            <div class="how">
                                <h2>How to read them</h2>
                                <p>
                                    Strain a little through a cloth and let it come to the warmth of the room. Read the
                                    hydrometer at the flat of the liquid, not where it climbs the stem.
                                </p>
                                <p>
                                    Wipe the refractometer, set it to nought with plain water, then put on two drops and
                                    close it at once: alcohol flies off.
                                </p>
                            </div>
                        )}
                    </div>
                </div>
                <p class="only-spoken" role="status">
                    {busy ? "" : spokenTest(got)}
                </p>
                <div class="foot-bar">
                    <button type="submit" class="main" disabled={busy}>
                        Test it
                    </button>
                </div>
            </form>
        </WithSources>
    );
}
