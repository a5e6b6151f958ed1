// Fold-outs under a bottle: its figures as a table, and how they were worked out.

import type { Foretold } from "./api.js";
import type { Figure } from "./figure.js";
import { rounded } from "./figure.js";
import { cap } from "./parts.js";
import { Cite, numbered } from "./sources.js";

interface Told {
    name: string;
    unit: string;
    figure: Figure | null | undefined;
    of?: string; // as the list of sources names it
}

function first(doc: Foretold): Told[] {
    return [
        { name: "Strength", unit: "% vol", figure: doc.strength_pct_vol, of: "strength" },
        { name: "Sugar", unit: "g/L", figure: doc.sugar_g_l, of: "sugar" },
        { name: "How much", unit: "mL", figure: doc.volume_ml, of: "volume" },
        { name: doc.bottle_ml ? `Bottles of ${doc.bottle_ml}\u2009mL` : "Bottles", unit: "", figure: doc.bottles, of: "volume" },
    ];
}

function further(doc: Foretold): Told[] {
    return [
        { name: "Acid, as citric", unit: "g/L", figure: doc.acid_g_l, of: "acid" },
        { name: "Body", unit: "g/L", figure: doc.extract_g_l, of: "extract" },
        { name: "Sugar to acid", unit: "to 1", figure: doc.sugar_acid_ratio, of: "acid" },
        { name: "Energy in 100\u2009mL", unit: "kJ", figure: doc.energy_kj_100ml, of: "energy" },
        { name: "Energy in 100\u2009mL", unit: "kcal", figure: doc.energy_kcal_100ml, of: "energy" },
        { name: "Cost", unit: doc.currency ?? "", figure: doc.cost },
    ];
}

function shown(doc: Foretold): Told[] {
    return [
        { name: "A hydrometer shows", unit: "at 20\u2009°C", figure: doc.sg_20_20, of: "specific gravity 20/20" },
        { name: "A refractometer shows", unit: "°Brix", figure: doc.brix, of: "refractometer reading" },
    ];
}

function Table({ rows, caption }: { rows: Told[]; caption: string }) {
    return (
        <table>
            <caption>{caption}</caption>
            <thead>
                <tr>
                    <th scope="col">What</th>
                    <th scope="col">value</th>
                    <th scope="col">low</th>
                    <th scope="col">high</th>
                </tr>
            </thead>
            <tbody>
                {rows.map(({ name, unit, figure, of }) => {
                    if (!figure) return null;
                    const r = rounded(figure);
                    return (
                        <tr>
                            <th scope="row">
                                {name} <span class="unit">{unit}</span> {of ? <Cite of={of} /> : null}
                            </th>
                            <td>{r.value}</td>
                            <td>{r.exact ? "exactly" : r.low}</td>
                            <td>{r.exact ? "" : r.high}</td>
                        </tr>
                    );
                })}
            </tbody>
        </table>
    );
}

/** On paper nothing can be folded out: every figure with its ends. */
export function OnPaper({ doc }: { doc: Foretold }) {
    return (
        <section class="on-paper figures" aria-label="Every figure, and its ends">
            <Table
                rows={[...first(doc), ...further(doc), ...shown(doc)]}
                caption="Of twenty makings, 19 lie between low and high"
            />
        </section>
    );
}

export function More({ doc }: { doc: Foretold }) {
    return (
        <div class="more">
            <OnPaper doc={doc} />
            <details>
                <summary>These figures as a table</summary>
                <Table rows={first(doc)} caption="Of twenty makings, 19 lie between low and high" />
            </details>
            <details>
                <summary>More figures</summary>
                <Table rows={further(doc)} caption="What else is in the bottle" />
                <Table rows={shown(doc)} caption="What your instruments would show" />
            </details>
            {doc.sources && doc.sources.length > 0 ? (
                <details>
                    <summary>Sources of these figures</summary>
                    <ol class="source-list">
                        {numbered(doc.sources, []).map((x) => (
                            <li>
                                {x.text}. <span class="soft">For: {x.of.join(", ")}.</span>
                            </li>
                        ))}
                    </ol>
                </details>
            ) : null}
            {doc.what_matters && doc.what_matters.length > 0 ? (
                <details>
                    <summary>How this is worked out</summary>
                    <p>What adds most to how far the strength and the sugar are spread, the first most:</p>
                    <ol>
                        {doc.what_matters.slice(0, 5).map((m) => (
                            <li>{cap(m.what)}</li>
                        ))}
                    </ol>
                    <p>
                        The recipe is made {doc.draws ?? "some thousand"} times on paper, each time with other amounts,
                        ripeness and losses within what is known of them. Each pip stands for one making of twenty.
                        Figures are a forecast, not an assay; local rules and licensed practice come first.
                    </p>
                </details>
            ) : null}
        </div>
    );
}
