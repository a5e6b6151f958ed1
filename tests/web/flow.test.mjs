// The pages as a maker uses them.  Run against the stand-in server, or against the program where STILLROOM_URL names
// it.
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { after, before, test } from "node:test";
import { address, isReal, LAPTOP, open, PHONE, start, stop, toBottle, until } from "./browser.mjs";

before(() => start());
after(() => stop());

async function toMake(page) {
    await toBottle(page);
    await page.getByRole("button", { name: "Make it ..." }).click();
    await page.locator(".amount-line input[type=range]").first().waitFor();
}

async function wish(page, blanks) {
    for (const [name, text] of Object.entries(blanks)) {
        await page.locator(`#wish-${name}`).fill(text);
        await page.locator(`#wish-${name}`).press("Enter");
    }
    await page.locator(".soon, .joint").first().waitFor();
}

const spirit = (page) => page.locator(".amount-line").getByRole("slider", { name: "vodka", exact: true });
const amounts = (page) => page.locator(".amount input").evaluateAll((all) => all.map((i) => i.value));
const figures = (page) => page.locator(".trio .figure b").allTextContents();

test("four taps at most from a pasted recipe to strength, sugar, bottles and one tip", async () => {
    const { page, end } = await open();
    const taps = await toBottle(page, (button) => button.tap());
    assert.ok(taps <= 4, `${taps} taps`);
    const shown = await figures(page);
    assert.equal(shown.length, 3);
    for (const f of shown) assert.match(f, /^\d/);
    assert.equal(await page.locator("svg.stem").count(), 3);
    assert.equal(await page.locator("svg.stem").first().locator(".pip").count(), 20);
    assert.match(await page.locator(".tip").innerText(), /One tip\. \S/);
    assert.match(
        await page.locator("svg.stem").first().getAttribute("aria-label"),
        /^Strength [\d.]+ per cent by volume\. Likely between [\d.]+ and [\d.]+\.$/,
    );
    await end();
});

test("a caution stands under its ingredient and cannot be folded away", async () => {
    const { page, end } = await open();
    await toBottle(page);
    const damson = page.locator(".added", { hasText: /damson/i }).first();
    assert.ok((await damson.locator(".caution").count()) > 0);
    assert.equal(await page.locator("details .caution").count(), 0);
    for (const text of await page.locator("main").allInnerTexts()) assert.doesNotMatch(text, /\bsafe\b|harmless/i);
    const source = page.locator(".caution summary").first();
    await source.click();
    assert.match(await page.locator(".caution details[open]").first().innerText(), /Source: \S/);
    await end();
});

test("every answer and change is asked again with all of them", async () => {
    const { page, end } = await open();
    await page.getByRole("button", { name: "Use an invented sample" }).click();
    await page.getByRole("button", { name: "Read it" }).click();
    await page.locator("fieldset.question").first().waitFor();
    const asked = [];
    page.on("request", (r) => {
        if (r.url().endsWith("/api/take")) asked.push(r.postDataJSON());
    });
    const answered = page.waitForResponse("**/api/take");
    const answer = page.locator(".answer").first();
    const label = (await answer.innerText()).trim();
    await answer.click();
    await answered;
    const changed = page.waitForResponse("**/api/take");
    await page.getByRole("button", { name: /^change: 3 bay/ }).click();
    await page.getByLabel("It means").fill("4 bay leaves");
    await page.getByRole("button", { name: "Change it" }).click();
    await changed;
    assert.equal(asked.length, 2);
    assert.deepEqual(Object.values(asked[1].answers), [label]);
    assert.deepEqual(Object.values(asked[1].changes), ["4 bay leaves"]);
    assert.deepEqual(Object.keys(asked[1]).sort(), ["answers", "changes", "text"]);
    await end();
});

test("text that is no recipe is answered at the box with what, why and what to try", async () => {
    const { page, end } = await open({ expected: [/status of 422|status of 400/] });
    await page.getByRole("button", { name: "Read it" }).click();
    assert.match(await page.getByRole("alert").innerText(), /nothing to read/);
    if (!isReal) {
        await page.locator("#words").fill("a teapot");
        await page.getByRole("button", { name: "Read it" }).click();
        await page.getByText(/Nothing in it is known|nothing in it is known/).waitFor();
        assert.match(await page.getByRole("alert").innerText(), /Try this: write one ingredient a line/);
    }
    await end();
});

test("keys move a slider by one kitchen step, page keys by five; the voice speaks once, afterwards", async () => {
    const { page, end } = await open({ viewport: LAPTOP });
    await toMake(page);
    const slider = spirit(page);
    const value = async () => Number(await slider.inputValue());
    const before = await figures(page);
    await slider.focus();
    await page.keyboard.press("ArrowRight");
    const first = await value();
    await page.keyboard.press("ArrowRight");
    const one = (await value()) - first;
    assert.ok(one > 0);
    assert.ok(Math.abs(first / one - Math.round(first / one)) < 1e-6, `${first} is on no tick of ${one}`);
    await page.keyboard.press("PageUp");
    assert.ok(Math.abs((await value()) - first - 6 * one) < 1e-6);
    assert.match(await slider.getAttribute("aria-valuetext"), /^\d+ millilitres of \S+/);
    await until(async () => (await figures(page))[0] !== before[0]);
    const voice = page.locator(".make > .only-spoken");
    await until(async () => /was/.test(await voice.textContent()));
    assert.match(await voice.textContent(), /Strength [\d.]+, was [\d.]+\./);
    assert.equal(await page.locator("[aria-live=polite]").count(), 1);
    await end();
});

test("dragging: one question on its way at a time, the newest value last, the scale fixed until release", async () => {
    const { page, end } = await open({ viewport: LAPTOP });
    const opened = page.waitForResponse("**/api/turn");
    await toMake(page);
    await opened;
    let flying = 0;
    let most = 0;
    const asked = [];
    let letGo = () => undefined;
    const held = new Promise((go) => (letGo = go)); // nothing is answered before the hand has moved on
    await page.route("**/api/turn", async (route) => {
        flying++;
        most = Math.max(most, flying);
        asked.push(route.request().postDataJSON());
        await held;
        const response = await route.fetch();
        await route.fulfill({ response });
        flying--;
    });
    const slider = spirit(page);
    // Numerals may give way to the bold ones, but where one stands it stays.
    const scale = async () =>
        new Map(
            await page
                .locator("svg.stem")
                .first()
                .locator(".numeral")
                .evaluateAll((all) => all.map((t) => [t.textContent, t.getAttribute("y")])),
        );
    await slider.scrollIntoViewIfNeeded();
    const box = await slider.boundingBox();
    const y = box.y + 20;
    const low = await slider.evaluate((i) => Number(i.min));
    const high = await slider.evaluate((i) => Number(i.max));
    const at = await slider.evaluate((i) => (Number(i.value) - Number(i.min)) / (Number(i.max) - Number(i.min)));
    const start = box.x + 12 + at * (box.width - 24);
    await page.mouse.move(start, y);
    await page.mouse.down();
    const before = await scale();
    for (let i = 1; i <= 30; i++) await page.mouse.move(start + (box.x + box.width - 14 - start) * (i / 30), y);
    await until(() => asked.length === 1);
    letGo();
    await until(() => asked.length === 2 && flying === 0);
    const during = [...(await scale())].filter(([text]) => before.has(text));
    assert.ok(during.length >= 2);
    for (const [text, y] of during) assert.equal(y, before.get(text), "the scale moved under the finger");
    await page.mouse.up();
    await until(async () => (await page.locator(".pips.sliding").count()) === 3);
    await until(() => flying === 0 && asked[asked.length - 1].draws === 4000);
    assert.equal(most, 1);
    assert.ok(asked.length >= 3 && asked.length <= 5, `${asked.length} questions for 30 moves`);
    const last = asked[asked.length - 1].dials[0];
    assert.ok(last.value > low + 0.9 * (high - low), `last asked ${last.value}`);
    assert.equal(asked[0].draws, 1000);
    assert.equal(new Set(asked.map((a) => a.seed)).size, 1);
    await end();
});

test("a wish that nothing was sought for yet is not counted: a sentence says when it will be", async () => {
    for (const viewport of [PHONE, LAPTOP]) {
        const { page, end } = await open({ viewport });
        await toMake(page);
        assert.equal(await page.locator(".soon").count(), 0);
        await wish(page, { strength: "30 to 31" });
        assert.match(await page.locator(".soon").innerText(), /^Once amounts are found, or turned: how many/);
        assert.doesNotMatch(await page.locator("main").innerText(), /\d of 20/);
        const name = await page.locator("svg.stem").first().getAttribute("aria-label");
        assert.match(name, /You wish 30 to 31\.$/);
        await spirit(page).focus();
        await page.keyboard.press("ArrowRight");
        await page.locator(".joint").waitFor();
        assert.match(await page.locator(".count").first().innerText(), /^\d+ of 20\s+in your wish$/);
        assert.equal(await page.locator(".soon").count(), 0);
        await end();
    }
});

test("a wish counts makings under each stem and jointly; counts are full pips; putting back puts all back", async () => {
    const { page, end } = await open({ viewport: LAPTOP });
    await toMake(page);
    const first = await amounts(page);
    await wish(page, { strength: "19 to 21", sugar: "170 to 195", bottles: "1" });
    await page.getByRole("button", { name: "Find amounts" }).click();
    await page.locator(".ways h2").first().waitFor();
    await until(async () => String(await amounts(page)) !== String(first));
    await until(async () => (await page.locator(".count").count()) === 3);
    // read at one moment: answers may still come
    const columns = await page
        .locator(".column")
        .evaluateAll((all) =>
            all.map((c) => [c.querySelector(".count").textContent, c.querySelectorAll(".pip:not(.open)").length]),
        );
    assert.equal(columns.length, 3);
    for (const [words, full] of columns) assert.match(words, new RegExp(`^\\s*${full} of 20`));
    assert.match(await page.locator(".joint").innerText(), /of 20 meets? all three wishes\.$/);
    await page.getByRole("button", { name: "Put it back" }).click();
    await until(async () => String(await amounts(page)) === String(first));
    await end();
});

test("a wish out of reach says what stops it, the nearest, and ways round; kitchen amounts say what each costs", async () => {
    const { page, end } = await open();
    await toMake(page);
    await wish(page, { strength: "30 to 31", sugar: "170 to 172" });
    await page.getByRole("checkbox", { name: "keep vodka as it is", exact: true }).check();
    assert.ok(await spirit(page).isDisabled());
    const asked = page.waitForRequest("**/api/aim");
    await page.getByRole("button", { name: "Find amounts" }).click();
    const body = (await asked).postDataJSON();
    assert.deepEqual(
        body.keep.map((k) => k.of),
        ["amount"],
    );
    await page.locator(".ways h2").first().waitFor();
    if (!isReal) {
        assert.match(
            await page.locator(".stopped").innerText(),
            /stopped by your one bottle of spirit\.\s+The nearest is 23/,
        );
        // what stops it is told before the amounts
        const y = async (what) => (await page.locator(what).first().boundingBox()).y;
        assert.ok((await y(".stopped")) < (await y(".amount-line")));
        await page.locator(".stopped button").first().click();
    }
    await page.getByRole("button", { name: "In kitchen amounts" }).click();
    await page.locator(".kitchen li, .ways > .side").first().waitFor();
    const rows = await page.locator(".kitchen li").allInnerTexts();
    assert.ok(rows.length <= 4 && (isReal || rows.length === 4));
    for (const r of rows) assert.match(r, /of 20|as sure as/);
    if (rows.length > 0)
        await page
            .getByRole("button", { name: /^take these/ })
            .last()
            .click();
    await page.locator(".set").waitFor();
    await end();
});

test("a blank that is not understood says so at the sentence", async () => {
    const { page, end } = await open();
    await toMake(page);
    await page.locator("#wish-strength").fill("strong");
    await page.locator("#wish-strength").press("Enter");
    assert.match(await page.locator(".wish-line [role=alert]").innerText(), /"strong" is not understood/);
    assert.equal(await page.locator("#wish-strength").getAttribute("aria-invalid"), "true");
    await end();
});

test("two readings of a bottle give strength and sugar, a verdict and a picture without a style element", async () => {
    const { page, end } = await open({ viewport: LAPTOP, expected: [/status of 422/] });
    await page.getByRole("link", { name: "My bottle", exact: true }).click();
    await page.locator("#field-sg").fill("1.057");
    await page.getByRole("button", { name: "Test it" }).click();
    await page.getByRole("alert").first().waitFor();
    await page.locator("#field-brix").fill("26,0");
    await page.getByRole("button", { name: "Test it" }).click();
    await page.locator(".two svg").waitFor();
    assert.deepEqual(
        await page
            .locator(".result .figure b")
            .allTextContents()
            .then((a) => a.length),
        2,
    );
    assert.match(await page.locator(".verdict").innerText(), /\S/);
    assert.equal(await page.locator("style").count(), 0);
    assert.equal(
        await page.locator("main [style]").evaluateAll((all) => all.filter((e) => e.closest(".two") === null).length),
        0,
    );
    assert.match(await page.locator(".two svg").getAttribute("aria-label"), /^Your bottle now: strength [\d.]+/);
    await page.locator("#field-sg").fill("1.9");
    await page.getByRole("button", { name: "Test it" }).click();
    await page.locator("#field-sg-wrong, .problems").first().waitFor();
    await end();
});

test("a mix is foretold, and goes on to be turned", async () => {
    const { page, end } = await open();
    await page.getByRole("link", { name: "Mix", exact: true }).click();
    await page.getByRole("button", { name: "Use an invented sample" }).click();
    await page.getByRole("button", { name: "What will I get?" }).click();
    await page.locator(".trio").waitFor();
    assert.equal((await figures(page)).length, 3);
    assert.ok((await page.locator(".caution").count()) > 0);
    await page.getByRole("button", { name: "Make it ..." }).click();
    await page.locator(".amount-line").first().waitFor();
    await end();
});

test("the recipe can be kept as a file", async () => {
    const { page, end } = await open();
    await toBottle(page);
    await page.getByText("Keep this recipe").click();
    const text = await page.locator("#recipe-file").inputValue();
    assert.match(text, /schema_version: 1/);
    const saved = page.waitForEvent("download");
    await page.getByRole("link", { name: /^Keep .*\.yaml$/ }).click();
    const file = await saved;
    assert.match(file.suggestedFilename(), /^[a-z0-9_]+\.yaml$/);
    assert.equal(await readFile(await file.path(), "utf8"), text);
    await end();
});

test("a wait of more than 400 ms says what is being done", async () => {
    const { page, end } = await open();
    let letGo = () => undefined;
    const held = new Promise((go) => (letGo = go));
    await page.route("**/api/take", async (route) => {
        await held;
        await route.continue();
    });
    await page.getByRole("button", { name: "Use an invented sample" }).click();
    // measured in the page itself: however long it takes us to look
    await page.evaluate(() => {
        const seen = new MutationObserver(() => {
            if (!document.querySelector(".waiting")?.textContent || !document.body.dataset.asked) return;
            document.body.dataset.waited ??= String(performance.now() - Number(document.body.dataset.asked));
        });
        seen.observe(document.body, { subtree: true, childList: true, characterData: true });
        document.addEventListener("click", () => (document.body.dataset.asked ??= String(performance.now())), true);
    });
    await page.getByRole("button", { name: "Read it" }).click();
    await page.getByText("Reading your words ...").waitFor();
    const waited = Number(await page.evaluate(() => document.body.dataset.waited));
    assert.ok(waited > 390, `said after ${waited} ms`);
    letGo();
    await page.getByRole("heading", { name: "Your words, read as" }).waitFor();
    await end();
});

// A program that was stopped: told in words, nothing typed is lost, and a button asks again.
async function gone(page, path, during) {
    await page.route(path, (route) => route.abort());
    await during();
    await page.getByRole("alert").first().waitFor();
    assert.match(
        await page.getByRole("alert").first().innerText(),
        /did not answer.*what you typed is still on this page.*start it again with “stillroom serve/s,
    );
    await page.unroute(path);
    await page.getByRole("button", { name: "Ask again" }).click();
}

test("a program that has stopped is told as that on every page, and asked again by a button", async () => {
    const { page, end } = await open({ expected: [/ERR_FAILED/] });
    const text = "Try\n600 g damsons\n700 mL vodka 40 %\n200 g sugar\n3 bay leaves\nleave 6 weeks, then strain";
    await page.locator("#words").fill(text);
    await gone(page, "**/api/take", async () => {
        await page.getByRole("button", { name: "Read it" }).click();
        await page.getByRole("alert").waitFor();
        assert.equal(await page.locator("#words").inputValue(), text);
    });
    await page.getByRole("button", { name: "What will I get?" }).click();
    await page.getByRole("button", { name: "Make it ..." }).click();
    await page.locator(".amount-line").first().waitFor();
    await wish(page, { strength: "20 to 22" });
    await gone(page, "**/api/aim", () => page.getByRole("button", { name: "Find amounts" }).click());
    await page.locator(".ways").waitFor();
    await until(async () => (await page.getByRole("alert").count()) === 0);
    assert.equal(await page.locator("#wish-strength").inputValue(), "20 to 22");
    await page.getByRole("link", { name: "Mix", exact: true }).click();
    await page.getByRole("button", { name: "Use an invented sample" }).click();
    await gone(page, "**/api/mix", () => page.getByRole("button", { name: "What will I get?" }).click());
    await page.locator(".trio").waitFor();
    await page.getByRole("link", { name: "My bottle", exact: true }).click();
    await page.locator("#field-sg").fill("1.057");
    await page.locator("#field-brix").fill("26");
    await gone(page, "**/api/gauge", () => page.getByRole("button", { name: "Test it" }).click());
    await page.locator(".result").first().waitFor();
    assert.equal(await page.locator("#field-sg").inputValue(), "1.057");
    await end();
});

test("figures that were asked before and come late do not take away that an aim was not answered", async () => {
    const { page, end } = await open({ expected: [/ERR_FAILED/] });
    await toMake(page);
    let letGo = () => undefined;
    const held = new Promise((go) => (letGo = go));
    await page.route("**/api/turn", async (route) => {
        await held;
        await route.continue();
    });
    await wish(page, { strength: "20 to 22" });
    await page.route("**/api/aim", (route) => route.abort());
    await page.getByRole("button", { name: "Find amounts" }).click();
    const alert = page.getByRole("alert");
    await alert.waitFor();
    const late = page.waitForResponse("**/api/turn");
    letGo();
    await (await late).finished();
    for (let i = 0; i < 3; i++) await page.evaluate(() => new Promise((r) => requestAnimationFrame(() => setTimeout(r))));
    assert.match(await alert.innerText(), /did not answer/);
    await spirit(page).focus();
    await page.keyboard.press("ArrowRight"); // other amounts: what failed was of those before
    await until(async () => (await alert.count()) === 0);
    await end();
});

test("a line of a mix that is refused is told with its words and what to try, and all that was typed stays", async () => {
    const { page, end } = await open({ expected: [/status of 422/] });
    const typed = "700 mL vodka 40 %\n\n3 wibbles of frob\n200 g sugar";
    await page.route("**/api/mix", (route) =>
        route.fulfill({
            status: 422,
            json: {
                errors: [
                    { file: "lines", line: 2, what: "unknown ingredient 'wibbles of frob'", why: "it is in no list", try: "look at the spelling" },
                ],
            },
        }),
    );
    await page.getByRole("link", { name: "Mix", exact: true }).click();
    await page.locator("#mix-lines").fill(typed);
    await page.getByRole("button", { name: "What will I get?" }).click();
    const refused = page.locator(".of-lines li");
    await refused.waitFor();
    assert.equal(await refused.count(), 1);
    assert.match(await refused.innerText(), /^3 wibbles of frob\s+Unknown ingredient .* Try this: look at the spelling\./);
    assert.equal(await page.locator("#mix-lines").inputValue(), typed);
    assert.equal(await page.locator("#mix-lines").getAttribute("aria-invalid"), "true");
    await page.getByRole("button", { name: "change this line: 3 wibbles of frob" }).click();
    const chosen = await page.locator("#mix-lines").evaluate((t) => t.value.slice(t.selectionStart, t.selectionEnd));
    assert.equal(chosen, "3 wibbles of frob");
    await end();
});

test("the browser's back button goes back a page, and a page without a recipe opens the first", async () => {
    const { page, end } = await open();
    await toBottle(page);
    await page.goBack();
    await page.getByRole("heading", { name: "Your words, read as" }).waitFor();
    await page.goto(`${address()}#make`);
    await page.reload();
    await page.locator("#words").waitFor();
    await end();
});
