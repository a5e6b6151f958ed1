// What POST /api/take answers to the sample of the first page: a reading written by hand, with the program's own
// foretelling.

const ROWS = [
    [1, "Hedge plum and bay", "title", "Hedge plum and bay", "sure", ""],
    [3, "1½ lb damsons, pricked", "ingredient", "680 g damsons, pricked", "sure", ""],
    [
        4,
        "½ lb sugar, less if you like",
        "ingredient",
        "180 to 227 g white sugar",
        "likely",
        '"less if you like" leaves it open by a fifth',
    ],
    [5, "a bottle of vodka", "ingredient", "700 mL vodka 40 % vol", "likely", "no size is written: 700 mL is usual"],
    [6, "3 bay leaves", "ingredient", "3 bay leaves, about 0.6 g", "sure", ""],
    [7, "a strip of lemon rind", "ingredient", "2 to 5 g lemon peel", "guess", "a strip weighs about this"],
    [
        9,
        "Put all of it into a big jar and leave for 6 weeks or so, turning it once a week.",
        "step",
        "38 to 46 days in the jar",
        "likely",
        '"or so" is three days either way',
    ],
    [
        10,
        "Strain through muslin and bottle in half-litre bottles.",
        "step",
        "strained, in bottles of 500 mL",
        "sure",
        "",
    ],
    [10, "Keep for 3 months.", "note", "", "sure", ""],
];
const QUESTIONS = [
    {
        id: "l5.volume",
        line: 5,
        ask: "How big is the bottle of vodka?",
        why: "Moves the strength most",
        options: ["500 mL", "700 mL", "1 L"],
    },
    {
        id: "l5.strength",
        line: 5,
        ask: "How strong is the vodka, in % vol?",
        why: "It is printed on the label",
        options: ["37.5", "40", "43", "50"],
    },
];

export function taken({ answers = {}, changes = {} }, foretold, recipe) {
    return {
        title: "Hedge plum and bay",
        rows: ROWS.map(([line, words, role, read_as, sure, because]) => ({
            line,
            words,
            role,
            read_as: changes[line] ?? read_as,
            sure,
            because,
            optional: false,
            step: role === "ingredient" || role === "step" ? 1 : null,
            changed: changes[line] !== undefined,
        })),
        questions: QUESTIONS.map((q) => ({ ...q, answered: answers[q.id] ?? null, own_words: true })).sort(
            (a, b) => (a.answered === null ? 0 : 1) - (b.answered === null ? 0 : 1),
        ),
        more_questions: 1,
        said: ["No syrup step was written: the sugar goes into the jar."],
        recipe,
        foretold,
        because: "",
    };
}
