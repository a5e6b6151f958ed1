// For every eye and hand: axe, keyboard alone, small pages, large letters, dark, forced colours, no motion, paper, and
// the policy.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { accessible, LAPTOP, noOverflow, open, PHONE, SMALL, start, stop, toBottle, until } from "./browser.mjs";

before(() => start());
after(() => stop());

// Every page in turn, with something on it.
const PAGES = [
    ["paste", async (page) => page.getByRole("button", { name: "Use an invented sample" }).click()],
    [
        "read back",
        async (page) => {
            await page.getByRole("button", { name: "Read it" }).click();
            await page.getByRole("button", { name: /^change: 3 bay/ }).click();
        },
    ],
    [
        "bottle",
        async (page) => {
            await page.getByRole("button", { name: "What will I get?" }).click();
            await page.locator(".trio").waitFor();
            await page.getByLabel("What if ...").selectOption("damson frozen");
            await page.locator(".jar-asked").waitFor();
            for (const s of await page.locator("summary").all()) await s.click();
        },
    ],
    [
        "make",
        async (page) => {
            await page.getByRole("button", { name: "Make it ..." }).click();
            await page.locator(".amount-line").first().waitFor();
            await page.getByRole("button", { name: "wish for more ..." }).click();
            await page.locator("#wish-strength").fill("25 to 27");
            await page.locator("#wish-strength").press("Enter");
            await page.locator(".soon").waitFor();
            await page.getByRole("checkbox", { name: /^keep bay/ }).check();
            await page.getByRole("button", { name: "In kitchen amounts" }).click();
            await page.locator(".ways").first().waitFor(); // stopped by, and kitchen amounts
        },
    ],
    [
        "mix",
        async (page) => {
            await page.getByRole("link", { name: "Mix", exact: true }).click();
            await page.getByRole("button", { name: "Use an invented sample" }).click();
            await page.getByRole("button", { name: "What will I get?" }).click();
            await page.locator(".trio").waitFor();
        },
    ],
    [
        "my bottle",
        async (page) => {
            await page.getByRole("link", { name: "My bottle", exact: true }).click();
            await page.locator("#field-sg").fill("1.057");
            await page.locator("#field-brix").fill("26");
            await page.getByRole("button", { name: "Test it" }).click();
            await page.locator(".two svg").waitFor();
            await page.getByText("Other instruments").click();
        },
    ],
];

async function eachPage(page, look) {
    for (const [name, open] of PAGES) {
        await open(page);
        await page.waitForTimeout(80);
        try {
            await look(page, name);
        } catch (e) {
            e.message = `${name}: ${e.message}`;
            throw e;
        }
    }
}

for (const [kind, options] of [
    ["a phone", { viewport: PHONE }],
    ["a laptop", { viewport: LAPTOP }],
    ["a phone in the dark", { viewport: PHONE, colorScheme: "dark" }],
    ["a laptop in the dark", { viewport: LAPTOP, colorScheme: "dark" }],
    ["forced colours", { viewport: LAPTOP, forcedColors: "active" }],
])
    test(`axe finds nothing on ${kind}, and no page is wider than its window`, async () => {
        const { page, end } = await open(options);
        await eachPage(page, async (p) => {
            await noOverflow(p);
            await accessible(p);
        });
        await end();
    });

test("320 px wide: nothing is cut off, the stems stand under one another", async () => {
    const { page, end } = await open({ viewport: SMALL });
    await eachPage(page, async (p, name) => {
        await noOverflow(p);
        if (name !== "bottle") return;
        const tops = await p
            .locator("svg.stem")
            .evaluateAll((all) => all.map((s) => Math.round(s.getBoundingClientRect().top)));
        assert.equal(new Set(tops).size, 3);
    });
    await end();
});

test("letters twice as large: nothing is cut off", async () => {
    for (const viewport of [PHONE, LAPTOP]) {
        const { page, end } = await open({ viewport });
        await page.evaluate(() => {
            document.documentElement.style.fontSize = "200%";
        });
        await eachPage(page, noOverflow);
        await end();
    }
});

test("targets for fingers are 44 px or more each way on a phone", async () => {
    const { page, end } = await open();
    await eachPage(page, async (p, name) => {
        const small = await p
            .locator("button, summary, nav a, a.text, a.button, select, .blank input, .own input, input[type=range], .check, textarea")
            .evaluateAll((all) =>
                all
                    .map((e) => [e, e.getBoundingClientRect()])
                    .filter(([, b]) => b.height > 0 && (b.height < 43.5 || b.width < 43.5))
                    .map(
                        ([e, b]) =>
                            `${e.tagName} ${e.getAttribute("aria-label") ?? e.textContent.slice(0, 30)} ${b.width} x ${b.height}`,
                    ),
            );
        assert.deepEqual(small, [], name);
    });
    await end();
});

// The contrast of every text that is shown, by the formula of WCAG 2.2, against the nearest ground that is painted.
async function faint(page) {
    return page.evaluate(() => {
        const canvas = document.createElement("canvas").getContext("2d", { willReadFrequently: true });
        const rgba = (css) => {
            canvas.clearRect(0, 0, 1, 1);
            canvas.fillStyle = css;
            canvas.fillRect(0, 0, 1, 1);
            return [...canvas.getImageData(0, 0, 1, 1).data];
        };
        const light = ([r, g, b]) => {
            const [x, y, z] = [r, g, b]
                .map((c) => c / 255)
                .map((c) => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4));
            return 0.2126 * x + 0.7152 * y + 0.0722 * z;
        };
        const ground = (e) => {
            for (let at = e; at; at = at.parentElement) {
                const c = rgba(getComputedStyle(at).backgroundColor);
                if (c[3] === 255) return c;
            }
            return [255, 255, 255, 255];
        };
        const out = [];
        const see = (e, css, words) => {
            const [a, b] = [light(rgba(css)), light(ground(e))].sort((x, y) => y - x);
            const ratio = (a + 0.05) / (b + 0.05);
            if (ratio < 4.5) out.push(`${ratio.toFixed(2)} "${words.trim().slice(0, 40)}" ${css}`);
        };
        const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
        for (let t = texts.nextNode(); t; t = texts.nextNode()) {
            const e = t.parentElement;
            if (!t.data.trim() || !e.getClientRects().length || e.closest("option, noscript")) continue;
            const style = getComputedStyle(e);
            see(e, e.closest("svg") ? style.fill : style.color, t.data);
        }
        for (const e of document.querySelectorAll("input, textarea, select")) {
            if (!e.getClientRects().length || e.type === "range" || e.type === "checkbox") continue;
            see(e, getComputedStyle(e).color, e.value || e.tagName);
            if (e.placeholder) see(e, getComputedStyle(e, "::placeholder").color, e.placeholder);
        }
        return { out, n: texts.root.textContent.length };
    });
}

test("every text has a contrast of 4.5 to 1 or more, by day and by night", async () => {
    for (const colorScheme of ["light", "dark"])
        for (const viewport of [PHONE, LAPTOP]) {
            const { page, end } = await open({ viewport, colorScheme });
            await eachPage(page, async (p) => {
                const { out, n } = await faint(p);
                assert.ok(n > 200);
                assert.deepEqual(out, []);
            });
            await end();
        }
});

// Tab until the element with this name has the focus; it must show it.
async function tabTo(page, name, most = 80) {
    for (let i = 0; i < most; i++) {
        await page.keyboard.press("Tab");
        const here = await page.evaluate(() => {
            const e = document.activeElement;
            const shown = e.closest(".slider, .blank") ?? e;
            const style = getComputedStyle(shown);
            const box = e.getBoundingClientRect();
            const top = document.elementFromPoint(
                box.x + box.width / 2,
                Math.min(innerHeight - 1, box.y + box.height / 2),
            );
            return {
                name:
                    e.getAttribute("aria-label") ??
                    (e.id ? document.querySelector(`label[for="${e.id}"]`)?.textContent : null) ??
                    e.textContent,
                outline: Math.max(
                    parseFloat(style.outlineWidth) || 0,
                    parseFloat(getComputedStyle(e).outlineWidth) || 0,
                ),
                isCovered: Boolean(top?.closest(".foot-bar, nav") && !e.closest(".foot-bar, nav")),
                isBody: e === document.body,
            };
        });
        if (!here.isBody) assert.ok(here.outline >= 3, `no focus is shown on "${here.name}"`);
        assert.equal(here.isCovered, false, `"${here.name}" has the focus under the foot bar`);
        if ((here.name ?? "").trim().startsWith(name)) return;
    }
    assert.fail(`"${name}" is not reached by Tab`);
}

test("keyboard alone: from an empty page to amounts, and to a tested bottle", async () => {
    for (const viewport of [PHONE, LAPTOP]) {
        const { page, end } = await open({ viewport });
        await page.keyboard.press("Tab");
        assert.equal(await page.evaluate(() => document.activeElement.textContent), "Skip to the page");
        await page.keyboard.press("Enter");
        assert.equal(await page.evaluate(() => document.activeElement.id), "page");
        await tabTo(page, "Your recipe");
        await page.keyboard.insertText(
            "Try\n600 g damsons\n700 mL vodka 40 %\n200 g sugar\n3 bay leaves\nleave 6 weeks, then strain",
        );
        await tabTo(page, "Read it");
        await page.keyboard.press("Enter");
        await page.getByRole("heading", { name: "Your words, read as" }).waitFor();
        assert.equal(await page.evaluate(() => document.activeElement.tagName), "H1");
        await tabTo(page, "What will I get?");
        await page.keyboard.press("Enter");
        await page.locator(".jar .chart").waitFor();
        await tabTo(page, "Time in the jar");
        const day = await page.locator(".jar-at caption").innerText();
        await page.keyboard.press("ArrowLeft");
        assert.notEqual(await page.locator(".jar-at caption").innerText(), day);
        await tabTo(page, "What if");
        await page.keyboard.press("ArrowDown");
        await page.keyboard.press("ArrowDown"); // spirit 60 %
        await page.locator(".jar-asked").waitFor();
        await tabTo(page, "Make it ...");
        await page.keyboard.press("Enter");
        await page.locator(".amount-line").first().waitFor();
        await tabTo(page, "Strength wished");
        await page.keyboard.insertText("20 to 23");
        await page.keyboard.press("Enter");
        await page.locator(".soon").waitFor();
        await tabTo(page, "Find amounts");
        await page.keyboard.press("Enter");
        await page.locator(".ways").first().waitFor(); // stopped by, and kitchen amounts
        await page.keyboard.press("Shift+Tab");
        await end();
    }
});

test("with less motion wished, pips do not slide", async () => {
    for (const [reducedMotion, expected] of [
        ["reduce", "0s"],
        ["no-preference", "0.12s"],
    ]) {
        const { page, end } = await open({ reducedMotion });
        await toBottle(page);
        const found = await page
            .locator("svg.stem .pip")
            .last()
            .evaluate((p) => getComputedStyle(p).transitionDuration);
        assert.equal(found, expected);
        await end();
    }
});

test("on paper: no buttons or tabs, cautions stay, black on white", async () => {
    const { page, end } = await open({ colorScheme: "dark" });
    await toBottle(page);
    await page.emulateMedia({ media: "print" });
    assert.equal(await page.locator("button:visible, nav:visible").count(), 0);
    assert.ok((await page.locator(".caution:visible").count()) > 2);
    assert.equal(await page.locator(".caution .cite:visible").count(), await page.locator(".caution").count());
    assert.equal(await page.evaluate(() => getComputedStyle(document.body).backgroundColor), "rgb(255, 255, 255)");
    await end();
});

test("on paper: every figure has its ends, and sources are a numbered list that figures and cautions cite", async () => {
    const { page, end } = await open();
    const looked = async (ask) => {
        await page.emulateMedia({ media: "print" });
        const items = await page.locator(".sources li:visible").allInnerTexts();
        assert.ok(items.length > 0, "no list of sources");
        for (const text of items) assert.match(text, /\S\. For: \S/s);
        const cites = await page.locator(".cite:visible").allInnerTexts();
        assert.ok(cites.length > 0);
        for (const c of cites) {
            assert.match(c, /^Sources? [\d, and]+\.$/);
            for (const n of c.match(/\d+/g)) assert.ok(Number(n) >= 1 && Number(n) <= items.length, c);
        }
        await ask();
        await page.emulateMedia({ media: "screen" });
        assert.equal(await page.locator(".sources:visible, .figures:visible").count(), 0);
    };
    const ends = async (n) => {
        assert.equal(await page.locator(".likely:visible").count(), n);
        for (const t of await page.locator(".likely").allInnerTexts()) assert.match(t, /likely between\s+\S+ and \S+/);
    };
    await toBottle(page);
    await looked(async () => {
        await ends(3);
        const rows = await page.locator(".figures tbody tr:visible").allInnerTexts();
        assert.ok(rows.length >= 8, `${rows.length} figures`);
        for (const r of rows) assert.match(r, /(\t[\d.,\u2009-]+){3}|exactly/, r);
    });
    await page.getByRole("button", { name: "Make it ..." }).click();
    await page.locator(".amount-line").first().waitFor();
    await looked(() => ends(3));
    await page.getByRole("link", { name: "My bottle", exact: true }).click();
    await page.locator("#field-sg").fill("1.057");
    await page.locator("#field-brix").fill("26");
    await page.getByRole("button", { name: "Test it" }).click();
    await page.locator(".result").first().waitFor();
    await looked(() => ends(2));
    await end();
});

test("the policy is on, and these tests would notice a style element or an inline script", async () => {
    const { page, wrong } = await open();
    await page.evaluate(() => {
        const style = document.createElement("style");
        style.textContent = "h1 { color: red }";
        document.head.append(style);
        const script = document.createElement("script");
        script.textContent = "1";
        document.head.append(script);
    });
    await until(() => wrong.some((w) => /^policy: style-src/.test(w)) && wrong.some((w) => /^policy: script-src/.test(w)));
    await page.context().close();
});
