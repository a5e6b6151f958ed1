// Make it: wish, amounts and stems at once.

import { useContext, useEffect, useRef, useState } from "preact/hooks";
import type { Aimed, Caution, Dial, Foretold, Turned, Watched } from "./api.js";
import { post } from "./api.js";
import { Held, Overs } from "./held.js";
import { Amounts, dialKey } from "./amounts.js";
import type { Blanks } from "./blank.js";
import { blanksOf, jointCount, wishOf } from "./blank.js";
import { cap, CautionBox, isStopped, Problems, quoted, Stops, Waiting } from "./parts.js";
import type { TrioScales } from "./trio.js";
import { scalesOf, Trio, trioOf, trioWish } from "./trio.js";
import type { Turning, Work } from "./turning.js";
import { changeWords, sideOf, useTurning } from "./turning.js";
import { metWords, Stopped, Ways } from "./ways.js";
import { AskedFor, whoBody } from "./who.js";
import { WishLine } from "./wish_line.js";
import { WithWorst } from "./worst.js";

/** True on a narrow page, where the stems are pinned above the amounts. */
function useNarrow(): boolean {
    const query = "(max-width: 1023px)";
    const [narrow, setNarrow] = useState(() => matchMedia(query).matches);
    useEffect(() => {
        const list = matchMedia(query);
        const heard = () => setNarrow(list.matches);
        list.addEventListener("change", heard);
        return () => list.removeEventListener("change", heard);
    }, []);
    return narrow;
}

/** What the voice says half a second after the amounts have come to rest: what changed since it last spoke. */
function useSaid(turned: Turned | null, joint: string): string {
    const [said, setSaid] = useState("");
    const was = useRef<Turned | null>(null);
    useEffect(() => {
        if (!turned) return undefined;
        was.current ??= turned;
        const timer = setTimeout(() => {
            const words = changeWords(turned, was.current);
            if (words) setSaid(`${words}${joint ? ` ${cap(joint)}.` : ""}`);
            was.current = turned;
        }, 500);
        return () => clearTimeout(timer);
    }, [turned]);
    return said;
}

/**
 * What to watch in the amounts as they are now.  Worst cases hang on amounts: once these rest the recipe is written with
 * them and held against the rules again; until the answer is there, what is shown says that it is of other amounts.
 */
function useWatched(doc: Foretold, recipe: string, t: Turning) {
    const who = whoBody(useContext(AskedFor).who);
    const whoKey = JSON.stringify(who);
    const [found, setFound] = useState<{ key: string; doc: Watched } | null>(null);
    const [failed, setFailed] = useState(""); // of which amounts
    const key = JSON.stringify([t.recipe, [...t.values], whoKey]);
    const asWritten = t.recipe === recipe && t.values.size === 0;
    const newest = useRef(key);
    newest.current = key;
    useEffect(() => {
        if (asWritten || t.moving || found?.key === key) return undefined;
        const timer = setTimeout(() => {
            t.written()
                .then((text) => post<Watched>("/api/cautions", { recipe: text, ...who }))
                .then((answer) => {
                    if (newest.current === key) setFound({ key, doc: answer });
                })
                .catch(() => setFailed(key));
        }, 300);
        return () => clearTimeout(timer);
    }, [key, t.moving]);
    const isNow = asWritten || found?.key === key;
    return { watched: asWritten ? doc : (found?.doc ?? doc), isNow, isFailed: !isNow && failed === key };
}

const isGrave = (c: Caution) => c.level !== "note";

const SOON = "Once amounts are found, or turned: how many makings of twenty are in your wish.";

export interface MakeProps {
    doc: Foretold; // of the recipe as it was written
    recipe: string;
    work: Work | null;
    onWork: (w: Work) => void;
    staying: { current: ReadonlySet<string> };
    blanks: Blanks | null;
    onBlanks: (b: Blanks) => void;
    onForesee: (recipe: string) => void;
}

/** What stays as the maker set it, when amounts are sought anew: what shall stay, and what an aim does not change. */
function kept(dials: Dial[], values: ReadonlyMap<string, number>, stay: ReadonlySet<string>, first: Dial[]) {
    const out = new Map<string, number>();
    for (const d of dials) {
        const key = dialKey(d);
        const value = values.get(key) ?? d.value;
        const was = first.find((f) => dialKey(f) === key)?.value;
        if ((d.free !== true || stay.has(key)) && was !== undefined && Math.abs(value - was) > 1e-6 * Math.abs(was))
            out.set(key, value);
    }
    return out;
}

export function Make({ doc, recipe, work, onWork, staying, blanks: filled, onBlanks, onForesee }: MakeProps) {
    const blanks = filled ?? blanksOf(doc.wish?.asked, doc.bottle_ml);
    const { wish, problems: wrong } = wishOf(blanks, {
        strength: doc.strength_pct_vol?.value,
        sugar: doc.sugar_g_l?.value,
    });
    const t = useTurning(recipe, wish, work, onWork);
    const [stay, setStay] = useState<ReadonlySet<string>>(staying.current);
    const [aimed, setAimed] = useState<Aimed | null>(null);
    const [busy, setBusy] = useState("");
    const [said, setSaid] = useState("");
    const narrow = useNarrow();
    const failed = useRef<(() => Promise<void>) | null>(null); // what to ask again; null: the figures
    const scales = useRef<TrioScales | null>(null);
    const figures = t.turned ? trioOf(t.turned.figures) : trioOf(doc as Parameters<typeof trioOf>[0], doc.pips);
    if (figures && (!t.moving || !scales.current)) scales.current = scalesOf(figures, trioWish(wish));
    // "0 of 20" of a recipe that nobody changed yet reads like a failure: the count is told of what was sought
    const sought = aimed !== null || !t.isAsWritten;
    const joint = t.turned && wish && sought ? jointCount(t.turned.joint, wish) : "";
    const spoken = useSaid(t.turned, joint);
    const dials = t.turned?.dials ?? doc.dials;
    const { watched, isNow, isFailed } = useWatched(doc, recipe, t);
    const stopped = isStopped(watched.cautions);
    const who = whoBody(useContext(AskedFor).who);
    const isAt = (c: Caution, d: Dial) => c.step === d.step && c.line === d.line && d.of === "amount";
    const graves = watched.cautions.filter(isGrave);
    const elsewhere = graves.filter((c) => c.level !== "stop" && !dials.some((d) => isAt(c, d)));
    const stale = isNow
        ? ""
        : isFailed
          ? "What to watch could not be reckoned for these amounts; it is told of the amounts before."
          : "What to watch is of the amounts before; it is being reckoned for these.";

    async function aim(kitchen: boolean) {
        if (!wish) {
            document.getElementById("wish-strength")?.focus();
            setSaid("Fill in a wish first: “22 to 24” for the strength, for example.");
            return;
        }
        t.forget();
        setBusy(kitchen ? "Looking for amounts a kitchen can measure ..." : "Looking for amounts ...");
        try {
            const keep = dials.filter((d) => stay.has(dialKey(d))).map(({ step, line, of }) => ({ step, line, of }));
            // always from the recipe as it was written: what was found before is not raised again
            const from = await t.writtenWith(kept(dials, t.values, stay, doc.dials));
            const answer = await post<Aimed>("/api/aim", { recipe: from, wish, keep, kitchen, seed: 1, ...who });
            setAimed(answer);
            if (answer.recipe) t.take(answer.recipe);
            else t.takeAmounts(answer.amounts);
            setSaid(answer.met ? `Set. ${metWords(answer, wish)}.` : "The nearest amounts are set.");
        } catch (e) {
            failed.current = () => aim(kitchen);
            t.fail(e);
        } finally {
            setBusy("");
        }
    }

    async function foresee() {
        t.forget();
        setBusy("Working out the whole bottle ...");
        try {
            onForesee(await t.written());
        } catch (e) {
            failed.current = foresee;
            t.fail(e);
            setBusy("");
        }
    }

    useEffect(() => {
        if (aimed) document.querySelector<HTMLElement>(".ways h2")?.focus();
    }, [aimed]);

    const stops = (d: { step: number; line: number }) =>
        aimed?.stopped_by.find((s) => s.step === d.step && s.line === d.line)?.value;
    const money = t.turned?.figures.cost?.value;
    return (
        <WithWorst of={watched}>
        <div class="page make">
            <h1 tabIndex={-1}>
                <span class="only-spoken">Make it: </span>
                {doc.title || "your recipe"}
            </h1>
            <Stops cautions={watched.cautions} />
            {stopped ? null : (
                <div class={isNow ? "" : "stale"}>
                    <Overs cautions={watched.cautions} withNotes={false} />
                </div>
            )}
            <p class="side stale-words" role="status">
                {stale}
            </p>
            {stopped ? <p class="soft">Not a drink to make: see Stop.</p> : null}
            <div class="spread">
                <div class="right">
                    <WishLine
                        blanks={blanks}
                        currency={doc.currency ?? ""}
                        problems={wrong}
                        onSet={(name, text) => {
                            setAimed(null);
                            onBlanks({ ...blanks, [name]: text });
                        }}
                    />
                    <div class={stopped ? "pinned paled" : "pinned"}>
                        {figures ? (
                            <Trio
                                figures={figures}
                                wish={wish}
                                {...(scales.current ? { scales: scales.current } : {})}
                                moving={t.moving}
                                compact={narrow}
                                counted={sought}
                            />
                        ) : null}
                        {joint ? <p class="joint">{cap(joint)}.</p> : null}
                        {wish && !sought ? <p class="side soon">{SOON}</p> : null}
                    </div>
                </div>
                <div class="left">
                    {aimed && !aimed.met ? (
                        <div class="ways">
                            <Stopped
                                aimed={aimed}
                                wish={wish}
                                onRecipe={(r, text) => {
                                    t.take(r);
                                    setAimed(null);
                                    setSaid(`Set: ${text}.`);
                                }}
                            />
                        </div>
                    ) : null}
                    <Amounts
                        dials={dials}
                        values={t.values}
                        stay={stay}
                        written={(d) => doc.dials.find((f) => dialKey(f) === dialKey(d))?.value ?? d.value}
                        side={(d) => sideOf(d, doc.lines, t.values.get(dialKey(d)))}
                        stops={stops}
                        cautions={(d) => graves.filter((c) => isAt(c, d))}
                        stale={!isNow}
                        onMove={(key, value) => {
                            setAimed(null);
                            t.move(key, value);
                        }}
                        onDone={t.done}
                        onStay={(key) => {
                            const next = new Set(stay);
                            if (!next.delete(key)) next.add(key);
                            staying.current = next;
                            setStay(next);
                        }}
                    />
                    {t.turned?.notes.map((n) => (
                        <p class="side">{quoted(n)}</p>
                    ))}
                    {elsewhere.map((c) => (
                        <CautionBox caution={c} />
                    ))}
                    <Held held={watched.held_against} all={watched.all_reckoned !== false} />
                    {money !== undefined && money > 0 ? (
                        <p class="side">
                            Cost {money.toFixed(2)} {doc.currency ?? ""}
                        </p>
                    ) : null}
                    <Problems
                        problems={t.problems}
                        onAgain={() => {
                            const last = failed.current;
                            failed.current = null;
                            t.again();
                            void last?.();
                        }}
                    />
                    <Waiting on={busy !== ""}>{busy}</Waiting>
                    {aimed ? (
                        <Ways
                            aimed={aimed}
                            wish={wish}
                            onRecipe={(r, text) => {
                                t.take(r);
                                setAimed(null);
                                setSaid(`Set: ${text}.`);
                            }}
                            onAmounts={(a, text) => {
                                t.takeAmounts(a);
                                setSaid(`Set: ${text}.`);
                            }}
                        />
                    ) : null}
                    <p class="side set" role="status">
                        {said}
                    </p>
                    <div class="row">
                        <button type="button" class="quiet" disabled={busy !== ""} onClick={() => void aim(true)}>
                            In kitchen amounts
                        </button>
                        <button
                            type="button"
                            class="text"
                            disabled={!t.canUndo}
                            onClick={() => {
                                t.undo();
                                setAimed(null);
                                setSaid("The last change is undone.");
                            }}
                        >
                            Undo
                        </button>
                        <button
                            type="button"
                            class="text"
                            disabled={t.isAsWritten}
                            onClick={() => {
                                t.putBack();
                                setAimed(null);
                                setSaid("Put back: the recipe as it was.");
                            }}
                        >
                            Put it back
                        </button>
                    </div>
                </div>
            </div>
            <p class="only-spoken" role="status" aria-live="polite">
                {spoken}
            </p>
            <div class="foot-bar">
                <button type="button" class="quiet" disabled={busy !== ""} onClick={() => void foresee()}>
                    What will I get?
                </button>
                <button
                    type="button"
                    class={stopped ? "quiet" : "main"}
                    disabled={busy !== ""}
                    onClick={() => void aim(false)}
                >
                    Find amounts
                </button>
            </div>
        </div>
        </WithWorst>
    );
}
