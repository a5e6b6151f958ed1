// Time in the jar: a curve to slide along, when each thing is mostly out, and the same jar made otherwise.

import { useContext, useEffect, useId, useRef, useState } from "preact/hooks";
import type { Dial, Line, Problem } from "./api.js";
import { post } from "./api.js";
import { JarChart } from "./jar_chart.js";
import { Latest } from "./latest.js";
import { cap, CautionBox, Problems, problemsOf, Waiting } from "./parts.js";
import { Slider, snapped } from "./slider.js";
import { AskedFor, whoBody } from "./who.js";
import type { Curve, Row, Run, Steeped } from "./steep.js";
import {
    at,
    awaited,
    changesOf,
    dayInAll,
    daySentence,
    daysOf,
    fadeWords,
    dayWords,
    lastDay,
    rowsAt,
    sameCurve,
    toldShare,
} from "./steep.js";

const FEW = 8; // sentences before the rest is folded

/** Only these steps may be a jar; the program says which are. */
export function mayHoldJar(lines: readonly Line[]): boolean {
    return lines.some((l) => l.step_kind === "steep" || l.step_kind === "syrup");
}

/** How far it is told, in days. */
const FAR: [string, string][] = [
    ["", "twice as long as planned"],
    ["0.25", "6 hours"],
    ["1", "a day"],
    ["7", "a week"],
    ["30", "30 days"],
    ["90", "90 days"],
    ["365", "a year"],
];

interface Asked {
    jar: string;
    what_if: string[];
    far: string;
}

/** The newest answer to what was asked last, and what was wrong with it. */
function useSteeped(recipe: string, asked: Asked, who: string) {
    const [doc, setDoc] = useState<Steeped | null>(null);
    const [problems, setProblems] = useState<Problem[]>([]);
    const [busy, setBusy] = useState(true);
    const line = useRef<Latest<Asked, Steeped> | null>(null);
    const ask = () => {
        setBusy(true);
        line.current?.ask(asked);
    };
    useEffect(() => {
        const done = (to: () => void) => {
            to();
            setBusy(false);
        };
        const mine = new Latest<Asked, Steeped>(
            ({ jar, what_if, far }) =>
                post("/api/steep", {
                    recipe,
                    ...(JSON.parse(who) as object),
                    what_if,
                    ...(jar ? { jar } : {}),
                    ...(far ? { until_days: Number(far) } : {}),
                }),
            (answer) =>
                done(() => {
                    setDoc(answer);
                    setProblems([]);
                }),
            (why) => done(() => setProblems(problemsOf(why))),
        );
        line.current = mine;
        return () => mine.stop();
    }, [recipe, who]);
    useEffect(ask, [recipe, who, asked.jar, asked.far, asked.what_if.join(";")]);
    return { doc, problems, busy, again: ask };
}

function AtDay({ day, rows, others }: { day: string; rows: Row[]; others: Row[] | null }) {
    const cell = (r: Row | undefined) => (
        <td>
            {r ? (
                <>
                    <b>{r.told.value}</b>
                    {r.told.likely ? <span class="jar-likely"> {r.told.likely}</span> : null}
                </>
            ) : (
                "not in it"
            )}
        </td>
    );
    return (
        <table class={others ? "jar-at both" : "jar-at"}>
            <caption>{cap(day)}</caption>
            {others ? (
                <thead>
                    <tr>
                        <th scope="col">What</th>
                        <th scope="col">as written</th>
                        <th scope="col">changed</th>
                    </tr>
                </thead>
            ) : null}
            <tbody>
                {rows.map((r) => (
                    <tr>
                        <th scope="row">{r.name}</th>
                        {cell(r)}
                        {others ? cell(others.find((o) => o.name === r.name)) : null}
                    </tr>
                ))}
            </tbody>
        </table>
    );
}

/** As many days as are worth a line. */
function daysToTell(run: Run): number[] {
    const end = lastDay(run);
    const days = [1 / 144, 1 / 24, 0.25, 1, 2, 4, 7, 14, 21, 28, 42, 56, 84, 120, 180, 365].filter((d) => d < end && d > end / 300);
    return [...new Set([...days, Math.min(run.planned_days, end), end])].sort((a, b) => a - b);
}

function ChartTable({ run, curve }: { run: Run; curve: Curve }) {
    return (
        <details>
            <summary>This curve as a table</summary>
            <table>
                <caption>{cap(curve.words.name)}: share of what will come, as written</caption>
                <thead>
                    <tr>
                        <th scope="col">When</th>
                        <th scope="col">share</th>
                    </tr>
                </thead>
                <tbody>
                    {daysToTell(run).map((d) => {
                        const t = toldShare(at(run.time_days, curve.share, d));
                        return (
                            <tr>
                                <th scope="row">{cap(dayWords(d))}</th>
                                <td>
                                    {t.value}
                                    {t.likely ? <span class="jar-likely"> {t.likely}</span> : null}
                                </td>
                            </tr>
                        );
                    })}
                </tbody>
            </table>
        </details>
    );
}

function Sentence({ curve, other }: { curve: Curve; other: Curve | undefined }) {
    const isSame = !other || other.words.text === curve.words.text;
    return (
        <li>
            <b>{cap(curve.words.name)}</b>
            {curve.words.before ? <span class="jar-text side">{cap(curve.words.before)}.</span> : null}
            {isSame ? (
                <span class="jar-text">{cap(curve.words.text)}.</span>
            ) : (
                <>
                    <span class="jar-text">As written: {curve.words.text}.</span>
                    <span class="jar-text">Changed: {other.words.text}.</span>
                </>
            )}
        </li>
    );
}

function Sentences({ doc, late, title }: { doc: Steeped; late: boolean; title: string }) {
    const all = doc.curves.filter((c) => c.late === late);
    if (all.length === 0) return null;
    const items = (some: Curve[]) => (
        <ul class="jar-said">
            {some.map((c) => (
                <Sentence curve={c} other={sameCurve(doc.what_if, c)} />
            ))}
        </ul>
    );
    return (
        <>
            <h3>{title}</h3>
            {items(all.slice(0, FEW))}
            {all.length > FEW ? (
                <details>
                    <summary>
                        {all.length - FEW} more<span class="only-spoken">: {title}</span>
                    </summary>
                    {items(all.slice(FEW))}
                </details>
            ) : null}
        </>
    );
}

interface ChangeProps {
    doc: Steeped | null;
    chosen: string;
    problems: Problem[];
    onChosen: (say: string) => void;
    onOwn: (words: string) => void;
}

function Changes({ doc, chosen, problems, onChosen, onOwn }: ChangeProps) {
    const [draft, setDraft] = useState("");
    const id = useId();
    return (
        <form
            class="jar-changes"
            onSubmit={(e) => {
                e.preventDefault();
                onOwn(draft);
            }}
        >
            <label class="field-name" for={`${id}-if`}>
                What if ...
            </label>
            <select id={`${id}-if`} value={chosen} onChange={(e) => onChosen(e.currentTarget.value)}>
                <option value="">as it is written</option>
                {doc?.offers.map((o) => (
                    <option value={o.say}>{o.words}</option>
                ))}
            </select>
            <label class="field-name" for={`${id}-own`}>
                Or in your own words; several with a semicolon between them are one making
            </label>
            <div class="own">
                <input
                    id={`${id}-own`}
                    value={draft}
                    autocomplete="off"
                    placeholder="30 C for 3 days, then 12 C; half the cloves"
                    maxLength={300}
                    aria-invalid={problems.length > 0}
                    aria-describedby={`${id}-wrong`}
                    onInput={(e) => setDraft(e.currentTarget.value)}
                />
                <button type="submit">What then?</button>
            </div>
            <div id={`${id}-wrong`}>
                <Problems problems={problems} />
            </div>
        </form>
    );
}

function step(tick: number): string {
    return tick === 1 ? "a day" : tick < 1 / 25 ? "5 minutes" : "an hour";
}

interface PickProps {
    name: string;
    value: string;
    options: [string, string][]; // value, words
    onPick: (value: string) => void;
}

function Pick({ name, value, options, onPick }: PickProps) {
    const id = useId();
    return (
        <div class="jar-pick">
            <label class="field-name" for={id}>
                {name}
            </label>
            <select id={id} value={value} onChange={(e) => onPick(e.currentTarget.value)}>
                {options.map(([v, words]) => (
                    <option value={v}>{words}</option>
                ))}
            </select>
        </div>
    );
}

/** The chart, the slider under it on the same axis, and what stands at its day. */
function Slide({ doc, curve }: { doc: Steeped; curve: Curve }) {
    const days = daysOf(doc);
    const [wanted, setWanted] = useState(Math.floor(doc.planned_days / days.tick + 1e-6) * days.tick);
    const [said, setSaid] = useState("");
    const day = snapped(Math.min(wanted, days.high), days);
    const sentence = (d: number) => daySentence(d, rowsAt(doc, curve, d));
    const other = doc.what_if;
    const move = (by: number) => {
        const next = snapped(day + by * days.tick, days);
        setWanted(next);
        setSaid(cap(sentence(next)));
    };
    const dial: Dial = { ...days, step: 0, line: 0, of: "amount", value: day, unit: "", text: "", name: "day" };
    const behind = day > doc.planned_days + days.tick ? `, left longer than the ${dayWords(doc.planned_days)} of the recipe` : "";
    return (
        <>
            <JarChart run={doc} other={other} curve={curve} day={day} until={days.high} />
            {(other?.amounts ?? []).map((a) => (
                <p key={a}>{cap(a)}.</p>
            ))}
            <div class="jar-slider">
                <Slider
                    dial={dial}
                    value={day}
                    stay={false}
                    name="Time in the jar"
                    words={sentence(day)}
                    onMove={setWanted}
                    onDone={() => undefined}
                />
            </div>
            <div class="row jar-steps">
                <button type="button" class="quiet" onClick={() => move(-1)}>
                    {step(days.tick)} less
                </button>
                <button type="button" class="quiet" onClick={() => move(1)}>
                    {step(days.tick)} more
                </button>
            </div>
            <p class="only-spoken" role="status">
                {said}
            </p>
            <AtDay
                day={`${dayInAll(doc, day)}${behind}`}
                rows={rowsAt(doc, curve, day)}
                others={other ? rowsAt(other, sameCurve(other, curve), day) : null}
            />
            {fadeWords(curve) ? <p class="side">{fadeWords(curve)}</p> : null}
            <p class="side">
                Hairs: where it likely lies, in 19 of 20 makings. Thin lines: the other things in this jar.
                {other ? " The dashed line is the jar changed." : ""}
            </p>
            <ChartTable run={doc} curve={curve} />
        </>
    );
}

function Notes({ doc }: { doc: Steeped }) {
    return (
        <>
            <p class="side">
                Shares are of what will come out in the end, not of all that is in the ingredient. {doc.mostly_out}{" "}
                {doc.draws} makings were tried on paper. How fast is known to a factor of 2 to 5.
            </p>
            {doc.cautions.length > 0 ? (
                <p class="side">Cautions are of the recipe as it is written. No time and no change here takes one
                    away, and a change may bring others: write it into the recipe, and look again.</p>
            ) : null}
            <p class="side">
                Tasted it? <code>stillroom steep --seen</code> learns from your notes.
            </p>
        </>
    );
}

export function Jar({ recipe }: { recipe: string }) {
    const { who } = useContext(AskedFor);
    const [jar, setJar] = useState("");
    const [follow, setFollow] = useState("");
    const [chosen, setChosen] = useState("");
    const [own, setOwn] = useState("");
    const [far, setFar] = useState("");
    const { doc, problems, busy, again } = useSteeped(recipe, { jar, what_if: changesOf(chosen, own), far }, JSON.stringify(whoBody(who)));
    const id = useId();
    if ((!doc && problems.length === 0) || (doc && !doc.jar)) return null;
    const isOfChange = (p: Problem) => (p.file ?? "").startsWith("what_if");
    const curve = doc ? (doc.curves.find((c) => c.words.name === follow) ?? awaited(doc)) : undefined;
    const other = doc?.what_if;
    // what is changed is what is followed
    const change = (say: string) => {
        const of = doc?.curves.find((c) => c.ingredient && !c.late && say.startsWith(`${c.ingredient} `));
        if (of) setFollow(of.words.name);
        setChosen(say);
    };
    return (
        <section class="jar" aria-labelledby={id}>
            <h2 id={id}>Time in the jar</h2>
            <Problems problems={problems.filter((p) => !isOfChange(p))} onAgain={again} />
            {doc ? (
                <div class="jar-spread" aria-busy={busy}>
                    <div class="left">
                        <div class="jar-picks">
                            {doc.jars.length > 1 ? (
                                <Pick
                                    name="Which jar"
                                    value={doc.jar ?? ""}
                                    options={doc.jars.map((j) => [j, j])}
                                    onPick={(j) => {
                                        setChosen("");
                                        setOwn("");
                                        setJar(j);
                                    }}
                                />
                            ) : null}
                            {curve ? (
                                <Pick
                                    name="Follow"
                                    value={curve.words.name}
                                    options={doc.curves.map((c) => [
                                        c.words.name,
                                        c.late ? `${c.words.name} (late)` : c.words.name,
                                    ])}
                                    onPick={setFollow}
                                />
                            ) : null}
                            <Pick name="Look as far as" value={far} options={FAR} onPick={setFar} />
                        </div>
                        {doc.filled_days > 0 ? (
                            <p class="side">
                                Days count from the filling of {doc.jar}; the jars before it take{" "}
                                {Math.floor(doc.filled_days + 1e-6)} days.
                            </p>
                        ) : null}
                        {curve ? (
                            <Slide key={`${doc.jar} ${far}`} doc={doc} curve={curve} />
                        ) : (
                            <p>Nothing in this jar is followed: how it gives is not known.</p>
                        )}
                    </div>
                    <div class="right">
                        {doc.tip ? <p class="jar-tip">{doc.tip}</p> : null}
                        {doc.sugar_words ? <p>{doc.sugar_words}</p> : null}
                        {doc.powder_words ? <p>{doc.powder_words}</p> : null}
                        <Changes
                            key={doc.jar}
                            doc={doc}
                            chosen={chosen}
                            problems={problems.filter(isOfChange)}
                            onChosen={change}
                            onOwn={setOwn}
                        />
                        <Waiting on={busy}>Following the jar through its days ...</Waiting>
                        {other ? (
                            <p class="jar-asked" role="status">
                                {other.asked.length > 1 ? "Changed, all in one making: " : "Changed: "}
                                {other.asked.join("; ")}. {other.tip === doc.tip ? "" : other.tip}
                            </p>
                        ) : null}
                        {other?.cautions.map((c) => <CautionBox caution={c} />)}
                        <Sentences doc={doc} late={false} title="When it is mostly out" />
                        <Sentences doc={doc} late title="What comes late, and grows" />
                        <Notes doc={doc} />
                    </div>
                </div>
            ) : null}
        </section>
    );
}
