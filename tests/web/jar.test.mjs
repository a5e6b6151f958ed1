// Time in the jar: slide to a day, another jar, made otherwise, what is wrong, nobody there, and a stop.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { after, before, test } from "node:test";
import { fileURLToPath } from "node:url";
import { accessible, LAPTOP, noOverflow, open, PHONE, start, stop, toBottle, until } from "./browser.mjs";

before(() => start());
after(() => stop());

const TWO = readFileSync(fileURLToPath(new URL("../../examples/apricot_spice_two_jars.yaml", import.meta.url)), "utf8");

async function toJar(page) {
    await toBottle(page);
    await page.locator(".jar .chart").waitFor();
}

async function toTwoJars(page) {
    await page.locator("#words").fill(TWO);
    await page.getByRole("button", { name: "Read it" }).click();
    await page.locator(".jar .chart").waitFor();
}

const slider = (page) => page.getByRole("slider", { name: "Time in the jar" });
const spoken = (page) => slider(page).getAttribute("aria-valuetext");
const dayOf = async (page) => Number(/^day (\d+): /.exec(await spoken(page))?.[1]); // the pasted sample's time may be read anew
const shown = (page) => page.locator(".jar-at").innerText();

test("slide to a day: the words, the mark and the voice follow, and nobody is asked again", async () => {
    for (const viewport of [PHONE, LAPTOP]) {
        const { page, end } = await open({ viewport });
        await toJar(page);
        const asked = [];
        page.on("request", (r) => asked.push(r.url()));
        await page.getByLabel("Follow").selectOption("damson, tannin");
        assert.match(await spoken(page), /^day \d+: damson, tannin \d+\s%, likely between \d+ and \d+; strength [\d.]+\s% vol, likely between/);
        const planned = await dayOf(page);
        assert.ok(planned >= 40 && planned <= 44, `${planned}`);
        const mark = () => page.locator(".jar-now line, line.jar-now").first().boundingBox();
        const first = await mark();
        await slider(page).focus();
        await page.keyboard.press("ArrowLeft");
        assert.equal(await dayOf(page), planned - 1);
        await page.keyboard.press("PageDown");
        assert.equal(await dayOf(page), planned - 6);
        await page.keyboard.press("Home");
        assert.match(await spoken(page), /^the beginning: .*\b0\s%/);
        assert.match(await shown(page), /^The beginning/);
        await slider(page).evaluate((e) => {
            e.value = "3.2";
            e.dispatchEvent(new Event("input", { bubbles: true }));
        });
        await until(async () => /^day 3: /.test(await spoken(page)));
        assert.match(await shown(page), /^Day 3/);
        assert.ok((await mark()).x < first.x - 50);
        const figures = await shown(page);
        await page.getByRole("button", { name: "a day more" }).click();
        assert.match(await page.locator(".jar-steps + [role=status]").innerText(), /^Day 4: /);
        assert.notEqual(await shown(page), figures);
        assert.deepEqual(asked, []);
        await page.keyboard.press("Tab");
        await slider(page).focus();
        await page.keyboard.press("End");
        assert.match(await shown(page), /^Day 8\d, left longer than the day 4\d of the recipe/);
        await end();
    }
});

test("the slider's ends stand under those of the axis", async () => {
    for (const viewport of [PHONE, LAPTOP]) {
        const { page, end } = await open({ viewport });
        await toJar(page);
        await slider(page).focus();
        for (const key of ["Home", "End"]) {
            await page.keyboard.press(key);
            const thumb = await page.locator(".jar-slider .thumb-body").boundingBox();
            const line = await page.locator(".jar-now line, line.jar-now").first().boundingBox();
            assert.ok(Math.abs(thumb.x + thumb.width / 2 - line.x) < 3, `${key}: ${thumb.x + thumb.width / 2} ${line.x}`);
        }
        await end();
    }
});

test("another thing is followed: chart, words and voice tell of it", async () => {
    const { page, end } = await open();
    await toTwoJars(page);
    await page.getByLabel("Which jar").selectOption("spice jar");
    await until(async () => (await page.getByLabel("Follow").locator("option").count()) > 8);
    await page.getByLabel("Follow").selectOption("clove bud, eugenol");
    assert.match(await page.locator(".jar .chart").getAttribute("aria-label"), /^clove bud, eugenol, share over days: mostly out by/);
    assert.match(await spoken(page), /^day 8: clove bud, eugenol /);
    await page.getByText("This curve as a table").click();
    assert.match(await page.locator(".jar details[open] table").first().innerText(), /Clove bud, eugenol: share/);
    await end();
});

const POURS = readFileSync(fileURLToPath(new URL("../../examples/quince_two_pours.yaml", import.meta.url)), "utf8");

test("a second pour has days of its own, told in all too, and what the first had of each thing", async () => {
    for (const viewport of [PHONE, LAPTOP]) {
        const { page, end } = await open({ viewport });
        await page.locator("#words").fill(POURS);
        await page.getByRole("button", { name: "Read it" }).click();
        await page.locator(".jar .chart").waitFor();
        assert.equal(await page.getByLabel("Which jar").inputValue(), "second");
        assert.match(await shown(page), /^Day 14 of second \(day 42 in all\)/);
        assert.match(await page.locator(".jar .left").innerText(), /Days count from the filling of second; the jars before it take 28 days\./);
        assert.match(await page.locator(".jar-said").first().innerText(), /the jars before this one had/);
        await slider(page).focus();
        await page.keyboard.press("Home");
        assert.match(await shown(page), /strength\s+40\.0/i); // as it is poured
        await accessible(page);
        await noOverflow(page);
        await page.getByLabel("Which jar").selectOption("first");
        await until(async () => /^Day 28\b/.test(await shown(page)));
        assert.doesNotMatch(await shown(page), /in all/);
        await end();
    }
});

test("look less far, and chart, slider and table end there", async () => {
    const { page, end } = await open({ viewport: LAPTOP });
    await toJar(page);
    const sent = page.waitForRequest("**/api/steep");
    await page.getByLabel("Look as far as").selectOption("7");
    assert.equal((await sent).postDataJSON().until_days, 7);
    await until(async () => /^Day 7\b/.test(await shown(page)));
    await slider(page).focus();
    await page.keyboard.press("End");
    assert.match(await shown(page), /^Day 7\b/);
    assert.equal(await page.locator(".jar .chart .jar-plan-words text, .jar .chart text.jar-plan-words").count(), 0);
    await page.getByText("This curve as a table").click();
    assert.doesNotMatch(await page.locator(".jar details[open] table").first().innerText(), /Day (8|14|42)/);
    await end();
});

test("another jar: its own things, times and changes", async () => {
    const { page, end } = await open({ viewport: LAPTOP });
    await toTwoJars(page);
    assert.deepEqual(await page.getByLabel("Which jar").locator("option").allInnerTexts(), [
        "spice jar",
        "peel jar",
        "fruit jar",
    ]);
    assert.equal(await page.getByLabel("Which jar").inputValue(), "fruit jar");
    assert.match(await page.locator(".jar-said").first().innerText(), /Vanilla pod/);
    const sent = page.waitForRequest("**/api/steep");
    await page.getByLabel("Which jar").selectOption("spice jar");
    assert.equal((await sent).postDataJSON().jar, "spice jar");
    await until(async () => /Coriander/.test(await page.locator(".jar-said").first().innerText()));
    assert.match(await shown(page), /^Day 8/);
    assert.match(await page.locator(".jar .right").innerText(), /What comes late, and grows\s+Cinnamon stick, tannin/);
    assert.match((await page.getByLabel("What if ...").locator("option").allInnerTexts()).join(), /clove bud crushed/);
    await end();
});

test("what if: both curves are drawn, told apart by dash and words; the sentences say what changes", async () => {
    const { page, end } = await open({ viewport: LAPTOP });
    await toTwoJars(page);
    await page.getByLabel("Which jar").selectOption("spice jar");
    await until(async () => /Coriander/.test(await page.locator(".jar-said").first().innerText()));
    const sent = page.waitForRequest("**/api/steep");
    await page.getByLabel("What if ...").selectOption("clove bud crushed");
    assert.deepEqual((await sent).postDataJSON().what_if, ["clove bud crushed"]);
    await page.locator(".jar-asked").waitFor();
    assert.match(await page.locator(".jar-asked").innerText(), /^Changed: clove bud crushed\./);
    // what is changed is what is followed
    assert.equal(await page.getByLabel("Follow").inputValue(), "clove bud, eugenol");
    const dash = (name) =>
        page
            .locator(`.jar .chart path.jar-${name}, .jar .chart .jar-${name} path`)
            .first()
            .evaluate((e) => getComputedStyle(e).strokeDasharray);
    assert.equal(await dash("first"), "none");
    assert.notEqual(await dash("second"), "none");
    const labels = await page.locator(".jar .chart text").allTextContents();
    assert.ok(labels.includes("as written") && labels.includes("changed"), String(labels));
    assert.match(await page.locator(".jar-said li", { hasText: "Clove bud" }).innerText(), /As written: .*\sChanged: /s);
    assert.doesNotMatch(await page.locator(".jar-said li", { hasText: "Coriander" }).innerText(), /Changed/);
    assert.equal(await page.locator(".jar-at thead th").count(), 3);
    await page.getByLabel("What if ...").selectOption("");
    await until(async () => (await page.locator(".jar-asked").count()) === 0);
    assert.equal(await page.locator(".jar .chart .jar-second").count(), 0);
    await end();
});

test("what if in the maker's own words, beside a ready one; strong spirit brings its caution", async () => {
    const { page, end } = await open();
    await toJar(page);
    await page.getByLabel("What if ...").selectOption("spirit 60 %");
    await page.locator(".jar .caution").waitFor();
    assert.match(await page.locator(".jar .caution").innerText(), /vapour|burn|flam/i);
    const sent = page.waitForRequest("**/api/steep");
    await page.getByLabel("Or in your own words").fill("in the fridge");
    await page.getByRole("button", { name: "What then?" }).click();
    assert.deepEqual((await sent).postDataJSON().what_if, ["spirit 60 %", "in the fridge"]);
    await until(async () => /at 4/.test(await page.locator(".jar-asked").innerText()));
    await accessible(page);
    await noOverflow(page);
    await end();
});

test("a change that is not understood is told at its field, and the curve stays", async () => {
    const { page, end } = await open({ expected: [/status of 422/] });
    await toJar(page);
    const own = page.getByLabel("Or in your own words");
    await own.fill("kiwi crushed");
    await own.press("Enter");
    const alert = page.locator(".jar-changes [role=alert]");
    await alert.waitFor();
    assert.match(await alert.innerText(), /This jar has no "kiwi"\..*name one of damson/s);
    assert.equal(await own.getAttribute("aria-invalid"), "true");
    assert.equal(await page.locator(".jar .chart").count(), 1);
    await accessible(page);
    await own.fill("");
    await own.press("Enter");
    await until(async () => (await alert.count()) === 0);
    await end();
});

test("nobody answers: it is said, what is drawn stays, and it can be asked again", async () => {
    const { page, end } = await open({ expected: [/ERR_FAILED|Failed to load/] });
    await toJar(page);
    await page.route("**/api/steep", (route) => route.abort());
    await page.getByLabel("What if ...").selectOption("damson frozen");
    const alert = page.locator(".jar > [role=alert]");
    await alert.waitFor();
    assert.match(await alert.innerText(), /The program did not answer\..*stillroom serve/s);
    assert.equal(await page.locator(".jar .chart").count(), 1);
    const day = await dayOf(page);
    await slider(page).focus();
    await page.keyboard.press("ArrowLeft");
    assert.equal(await dayOf(page), day - 1);
    await page.unroute("**/api/steep");
    await page.getByRole("button", { name: "Ask again" }).click();
    await page.locator(".jar-asked").waitFor();
    assert.equal(await alert.count(), 0);
    await end();
});

test("while something says stop there is no jar to slide along, and nobody is asked for one", async () => {
    const { page, end } = await open();
    const asked = [];
    page.on("request", (r) => asked.push(new URL(r.url()).pathname));
    await page.route("**/api/take", async (route) => {
        const response = await route.fetch();
        const doc = await response.json();
        doc.foretold.cautions = [
            { level: "stop", what: "yew: poisonous", because: "poisonous", source: "from memory", step: 1, line: 1 },
            ...doc.foretold.cautions,
        ];
        await route.fulfill({ response, json: doc });
    });
    await toBottle(page);
    await page.waitForTimeout(200);
    assert.equal(await page.locator(".jar").count(), 0);
    assert.ok(!asked.includes("/api/steep"));
    await end();
});

test("notes say what shares are of, that no time takes a caution away, and where tasting is learnt from", async () => {
    const { page, end } = await open();
    await toJar(page);
    const text = await page.locator(".jar").innerText();
    assert.match(text, /Tasted it\? stillroom steep --seen learns from your notes\./);
    assert.match(text, /No time and no change here takes one away/);
    assert.match(text, /Shares are of what will come out in the end/);
    assert.doesNotMatch(text, /\bsafe\b|harmless|NaN|undefined|null/i);
    await end();
});
