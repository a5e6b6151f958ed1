// The amounts under the maker's hands: what was turned, what the program says of it, and the way back.

import { useContext, useEffect, useLayoutEffect, useMemo, useRef, useState } from "preact/hooks";
import type { Aimed, Dial, Problem, Turned, Wish } from "./api.js";
import { post } from "./api.js";
import { dialKey } from "./amounts.js";
import { Latest } from "./latest.js";
import { problemsOf } from "./parts.js";
import { AskedFor, whoBody } from "./who.js";

interface Asked {
    recipe: string;
    values: ReadonlyMap<string, number>;
    wish: Wish | null;
    moving: boolean;
    who?: Record<string, string | number>;
}

export interface Before {
    recipe: string;
    values: ReadonlyMap<string, number>;
}

function dialsOf(values: ReadonlyMap<string, number>) {
    return [...values].map(([key, value]) => {
        const [step, line, of] = key.split(".");
        return { step: Number(step), line: Number(line), of, value };
    });
}

/**
 * What /api/turn is asked; the same seed each time, so that pips slide. Under the hand a quarter of the draws will do; at
 * rest it is as many as the bottle page has, so that both tell the same figures.
 */
export function turnBody({ recipe, values, wish, moving, who = {} }: Asked, write = false) {
    return {
        ...who,
        recipe,
        dials: dialsOf(values),
        draws: moving ? 1000 : 4000,
        seed: 1,
        ...(wish ? { wish } : {}),
        ...(write ? { write: true } : {}),
    };
}

/** What was done on the page, kept while another page is open. */
export interface Work extends Before {
    past: Before[];
}

export interface Turning {
    recipe: string;
    turned: Turned | null;
    values: ReadonlyMap<string, number>;
    moving: boolean;
    problems: Problem[];
    canUndo: boolean;
    isAsWritten: boolean;
    move: (key: string, value: number) => void;
    done: () => void;
    take: (recipe: string) => void;
    takeAmounts: (amounts: Aimed["amounts"]) => void;
    undo: () => void;
    putBack: () => void; // to the recipe as it was when the page was entered
    written: () => Promise<string>;
    /** The recipe as it was written, with these amounts alone. */
    writtenWith: (values: ReadonlyMap<string, number>) => Promise<string>;
    fail: (e: unknown) => void; // a deed: told until it is asked again or the amounts are others
    forget: () => void; // what a deed failed by
    again: () => void; // what was asked last
}

export function useTurning(first: string, wish: Wish | null, kept: Work | null, onWork: (w: Work) => void): Turning {
    const who = whoBody(useContext(AskedFor).who);
    const whoKey = JSON.stringify(who);
    const [recipe, setRecipe] = useState(kept?.recipe ?? first);
    const [values, setValues] = useState<ReadonlyMap<string, number>>(kept?.values ?? new Map());
    const [turned, setTurned] = useState<Turned | null>(null);
    const [moving, setMoving] = useState(false);
    const [problems, setProblems] = useState<Problem[]>([]);
    // apart: an answer about figures, asked before, says nothing of a deed that failed
    const [ofDeed, setOfDeed] = useState<Problem[]>([]);
    const [past, setPast] = useState<Before[]>(kept?.past ?? []);
    const isDragging = useRef(false);
    const latest = useMemo(
        () =>
            new Latest<Asked, Turned>(
                (asked) => post<Turned>("/api/turn", turnBody(asked)),
                (answer) => {
                    setTurned(answer);
                    setProblems([]);
                },
                (e) => setProblems(problemsOf(e)),
            ),
        [],
    );
    useEffect(() => () => latest.stop(), [latest]);
    const wishText = JSON.stringify(wish);
    // before the next frame is painted, not after it: the answer is then on the screen with that frame
    useLayoutEffect(() => {
        latest.ask({ recipe, values, wish, moving, who });
    }, [recipe, values, wishText, moving, whoKey]);

    useEffect(() => onWork({ recipe, values, past }), [recipe, values, past]);

    const isAsWritten = recipe === first && values.size === 0;
    const written = async (from: string, set: ReadonlyMap<string, number>) => {
        if (set.size === 0) return from;
        const answer = await post<Turned>("/api/turn", turnBody({ recipe: from, values: set, wish: null, moving: false, who }, true));
        return answer.recipe ?? from;
    };
    const remember = () => {
        setOfDeed([]);
        setPast((p) => [...p.slice(-49), { recipe, values }]);
    };
    return {
        recipe,
        turned,
        values,
        moving,
        problems: ofDeed.length > 0 ? ofDeed : problems,
        canUndo: past.length > 0,
        isAsWritten,
        move(key, value) {
            if (!isDragging.current) remember();
            isDragging.current = true;
            setMoving(true);
            setValues((v) => new Map(v).set(key, value));
        },
        done() {
            isDragging.current = false;
            setMoving(false);
        },
        take(next) {
            remember();
            setRecipe(next);
            setValues(new Map());
        },
        takeAmounts(amounts) {
            remember();
            setValues((v) => {
                const out = new Map(v);
                for (const a of amounts) out.set(dialKey(a), a.after);
                return out;
            });
        },
        putBack() {
            if (isAsWritten) return;
            remember();
            setRecipe(first);
            setValues(new Map());
        },
        undo() {
            const last = past[past.length - 1];
            if (!last) return;
            setOfDeed([]);
            setPast(past.slice(0, -1));
            setRecipe(last.recipe);
            setValues(last.values);
        },
        written: () => written(recipe, values),
        writtenWith: (set) => written(first, set),
        fail(e) {
            setOfDeed(problemsOf(e));
        },
        forget() {
            setOfDeed([]);
        },
        again() {
            setOfDeed([]);
            latest.ask({ recipe, values, wish, moving, who });
        },
    };
}

/** "Strength 21, was 20." of two answers, for the voice. */
export function changeWords(now: Turned, was: Turned | null): string {
    const names = [
        ["strength_pct_vol", "Strength", 1],
        ["sugar_g_l", "Sugar", 0],
        ["volume_ml", "In the bottle, millilitres", -1],
    ] as const;
    const tell = (x: number, digits: number) => (digits < 0 ? String(Math.round(x / 10) * 10) : x.toFixed(digits));
    const out: string[] = [];
    for (const [key, name, digits] of names) {
        const a = now.figures[key];
        const b = was?.figures[key];
        if (!a) continue;
        const [x, y] = [tell(a.value, digits), b ? tell(b.value, digits) : ""];
        if (y && x !== y) out.push(`${name} ${x}, was ${y}.`);
    }
    return out.join(" ");
}

/**
 * What stands under a name: the amount in the recipe's own measures where they are others than the blank's, and where
 * it goes.
 */
export function sideOf(dial: Dial, lines: { step: number; line: number; step_name: string }[], value?: number): string {
    const line = lines.find((l) => l.step === dial.step && l.line === dial.line);
    if (dial.of === "strength") return "on its label";
    const isOwn =
        !/^[\d.,]+\s*(g|mL)?$/.test(dial.text) && (value === undefined || Math.abs(value - dial.value) < 1e-6);
    return [isOwn ? dial.text : "", line?.step_name ?? ""].filter(Boolean).join(", ");
}
