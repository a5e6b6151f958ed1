// The recipe as it will be made, each caution at the ingredient that brings it.

import type { Caution, Foretold, Line } from "./api.js";
import { Held } from "./held.js";
import { cap, CautionBox } from "./parts.js";

const KIND: Record<string, string> = {
    toast: "Toast",
    steep: "Steep",
    syrup: "Make a syrup",
    blend: "Put together",
    rest: "Let it rest",
    rack: "Rack",
    fine: "Fine",
    filter: "Filter",
    bottle: "Bottle",
};

// Steps of which there may be several, told apart by their names.
const NAMED = new Set(["toast", "steep", "syrup", "blend"]);

interface Step {
    step: number;
    kind: string;
    name: string;
    lines: Line[];
}

export function stepsOf(lines: Line[]): Step[] {
    const out: Step[] = [];
    for (const l of lines) {
        const last = out[out.length - 1];
        if (last && last.step === l.step) last.lines.push(l);
        else out.push({ step: l.step, kind: l.step_kind, name: l.step_name, lines: [l] });
    }
    return out;
}

function Added({ line, cautions }: { line: Line; cautions: Caution[] }) {
    const amount = line.amount_text ?? "";
    const rest = amount ? (line.name_text ?? "") : line.text;
    return (
        <li class="added">
            <p class="added-line">
                {amount ? <b>{amount}</b> : null}
                <span class="what">
                    {rest}
                    {line.said && line.said !== line.text ? <i class="their-words">{line.said}</i> : null}
                </span>
            </p>
            {cautions.map((c) => (
                <CautionBox caution={c} />
            ))}
        </li>
    );
}

export interface RecipeProps {
    doc: Foretold;
    title?: string;
    deeds?: string[]; // what to do, in the maker's words
}

export function Recipe({ doc, title = "The recipe, and what to watch", deeds = [] }: RecipeProps) {
    const shown = new Set<Caution>();
    const at = (test: (c: Caution) => boolean) => {
        const mine = doc.cautions.filter((c) => !shown.has(c) && test(c));
        for (const c of mine) shown.add(c);
        return mine;
    };
    const steps = stepsOf(doc.lines).map((s) => ({
        ...s,
        lines: s.lines.map((line) => ({ line, cautions: at((c) => c.step === line.step && c.line === line.line) })),
        own: at((c) => c.step === s.step && !s.lines.some((l) => l.line === c.line)),
    }));
    const whole = at(() => true);
    return (
        <section aria-labelledby="recipe-lines" class="recipe">
            <h2 id="recipe-lines">{title}</h2>
            {steps.map((s) => (
                <div class="step">
                    {doc.lines[0]?.step_name === "mix" ? null : (
                        <h3>
                            {KIND[s.kind] ?? cap(s.kind)}
                            {s.name && NAMED.has(s.kind) ? `: ${s.name}` : ""}
                        </h3>
                    )}
                    <ul class="lines">
                        {s.lines.map((l) => (
                            <Added {...l} />
                        ))}
                    </ul>
                    {s.own.map((c) => (
                        <CautionBox caution={c} />
                    ))}
                </div>
            ))}
            {deeds.length > 0 ? (
                <>
                    <h3>What to do, as you wrote it</h3>
                    <ol class="deeds">
                        {deeds.map((d) => (
                            <li class="their-words">{d}</li>
                        ))}
                    </ol>
                </>
            ) : null}
            {whole.length > 0 ? (
                <>
                    <h3>In the whole bottle</h3>
                    {whole.map((c) => (
                        <CautionBox caution={c} />
                    ))}
                </>
            ) : null}
            <Held held={doc.held_against} all={doc.all_reckoned !== false} />
        </section>
    );
}
