// Fold-outs under a bottle: its figures as a table, and how they were worked out.

import type { Foretold } from "./api.js";
import type { Figure } from "./figure.js";
import { rounded } from "./figure.js";
import { cap } from "./parts.js";

interface Told {
    name: string;
    unit: string;
    figure: Figure | null | undefined;
}

function first(doc: Foretold): Told[] {
    return [
        { name: "Strength", unit: "% vol", figure: doc.strength_pct_vol },
        { name: "Sugar", unit: "g/L", figure: doc.sugar_g_l },
        { name: "How much", unit: "mL", figure: doc.volume_ml },
        { name: doc.bottle_ml ? `Bottles of ${doc.bottle_ml}\u2009mL` : "Bottles", unit: "", figure: doc.bottles },
    ];
}

function further(doc: Foretold): Told[] {
    return [
        { name: "Acid, as citric", unit: "g/L", figure: doc.acid_g_l },
        { name: "Body", unit: "g/L", figure: doc.extract_g_l },
        { name: "Sugar to acid", unit: "to 1", figure: doc.sugar_acid_ratio },
        { name: "Energy in 100\u2009mL", unit: "kJ", figure: doc.energy_kj_100ml },
        { name: "Energy in 100\u2009mL", unit: "kcal", figure: doc.energy_kcal_100ml },
        { name: "Cost", unit: doc.currency ?? "", figure: doc.cost },
    ];
}

function shown(doc: Foretold): Told[] {
    return [
        { name: "A hydrometer shows", unit: "at 20\u2009°C", figure: doc.sg_20_20 },
        { name: "A refractometer shows", unit: "°Brix", figure: doc.brix },
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
                {rows.map(({ name, unit, figure }) => {
                    if (!figure) return null;
                    const r = rounded(figure);
                    return (
                        <tr>
                            <th scope="row">
                                {name} <span class="unit">{unit}</span>
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

export function More({ doc }: { doc: Foretold }) {
    return (
        <div class="more">
            <details>
                <summary>These figures as a table</summary>
                <Table rows={first(doc)} caption="Of twenty makings, 19 lie between low and high" />
            </details>
            <details>
                <summary>More figures</summary>
                <Table rows={further(doc)} caption="What else is in the bottle" />
                <Table rows={shown(doc)} caption="What your instruments would show" />
            </details>
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
