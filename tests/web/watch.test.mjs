// What is over a limit, why, for whom, and that it is never told of other amounts than those on the page.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { after, before, test } from "node:test";
import { fileURLToPath } from "node:url";
import { PHONE, SMALL, accessible, noOverflow, open, start, stop, until } from "./browser.mjs";

before(() => start());
after(() => stop());

const KERNEL = readFileSync(fileURLToPath(new URL("../../examples/cherry_kernel.yaml", import.meta.url)), "utf8");
const WIDE = { width: 1280, height: 900 };

async function toKernel(page) {
    await page.locator("#words").fill(KERNEL);
    await page.getByRole("button", { name: "Read it" }).click();
    await page.locator(".trio .figure").first().waitFor();
}

async function toAmounts(page) {
    await toKernel(page);
    await page.getByRole("button", { name: "Make it ..." }).click();
    await page.locator(".amount-line").first().waitFor();
}

const cinnamon = (page) => page.locator(".amount-line", { hasText: /cinnamon/i }).first();
const top = async (locator) => (await locator.boundingBox()).y;

async function lessCinnamon(page) {
    const blank = cinnamon(page).getByRole("textbox");
    await blank.fill("1");
    await blank.press("Enter");
}

for (const [name, options] of [
    ["on a phone", { viewport: PHONE }],
    ["on a phone in the dark", { viewport: PHONE, colorScheme: "dark" }],
    ["on a laptop", { viewport: WIDE }],
    ["on a laptop in the dark", { viewport: WIDE, colorScheme: "dark" }],
    ["on a small phone", { viewport: SMALL }],
])
    test(`what is over a limit stands first and at its ingredient, in words and with a mark of its own, ${name}`, async () => {
        const { page, end } = await open(options);
        await toKernel(page);
        const first = page.locator(".overs .caution.over");
        assert.equal(await first.count(), 1);
        assert.match(await first.innerText(), /Over the limit: cinnamon stick: at most 52 mg\/kg of coumarin in the drink/);
        assert.ok((await top(first)) < (await top(page.locator(".trio"))));
        const at = page.locator(".added", { hasText: /cinnamon stick/ }).locator(".caution.over");
        assert.equal(await at.count(), 1);
        assert.match(await at.innerText(), /At most 52 mg\/kg, over 10: .*unverified figure/s);
        const mark = await at.locator("svg path").getAttribute("d");
        const other = await page.locator('.caution[class="caution caution"] svg path').first().getAttribute("d");
        assert.notEqual(mark, other);
        await noOverflow(page);
        await accessible(page);
        await end();
    });

test("why opens by the keyboard: what goes in, each limit, what is not in force, and every source", async () => {
    const { page, end } = await open();
    await toKernel(page);
    const at = page.locator(".added", { hasText: /cinnamon stick/ }).locator(".caution.over");
    const why = at.locator("summary");
    assert.ok((await why.boundingBox()).height >= 44);
    await why.focus();
    await page.keyboard.press("Enter");
    const told = at.locator(".worst");
    await told.waitFor();
    const text = await told.innerText();
    assert.match(text, /Harms the liver/);
    assert.match(text, /Cinnamon stick \(3.*g at most\): up to 10.000.mg in a kilogram/);
    assert.match(text, /2\.2.mg in 40.mL/);
    assert.match(text, /At most 0\.037 mg per kg of body weight in 40 mL for 60 kg, within 0\.1/);
    assert.match(text, /an older rule, 1988, not in force/);
    assert.match(await at.innerText(), /at most 1\.0 g of cinnamon stick a litre/i); // told once, there or above
    assert.match(await at.innerText(), /\[anzfsc_19\].*\[bfr_2012\]/s);
    await accessible(page);
    await noOverflow(page);
    await end();
});

test("every report ends with local rules, the year, and what is not known there", async () => {
    const { page, end } = await open();
    await toKernel(page);
    const held = page.locator(".recipe .held");
    assert.match(await held.innerText(), /Local rules and licensed practice come first.*Rules known up to 20\d\d\. Not known here: .+\. What is not listed was not looked\s+at\./s);
    assert.match(await held.locator("summary").innerText(), /every place, 40.mL, 60.kg/);
    await page.getByRole("button", { name: "Make it ..." }).click();
    await page.locator(".amount-line").first().waitFor();
    assert.match(await page.locator(".make .held").innerText(), /Local rules and licensed practice come first/);
    await end();
});

test("where I live changes whose rules hold, and is remembered; a figure that cannot be is told and not sent", async () => {
    const { page, end } = await open();
    const sent = [];
    page.on("request", (r) => {
        if (r.method() === "POST") sent.push(r.postDataJSON());
    });
    await toKernel(page);
    await page.locator(".held summary").click();
    const place = page.getByLabel("Where I live");
    await until(async () => (await place.locator("option").count()) === 7);
    assert.equal(await place.inputValue(), "strictest");
    await accessible(page);
    await place.selectOption("eu");
    await until(async () => (await page.locator(".held summary").innerText()).includes("European Union"));
    assert.equal(sent.filter((b) => b.place === "eu").length > 0, true);
    assert.equal(await page.locator(".caution.over").count(), 0);
    assert.match(await page.locator(".held").innerText(), /member states/);
    assert.equal(await page.locator(".held details[open]").count(), 1, "the choice stays open");
    const before = sent.length;
    const weight = page.getByLabel(/For whom/);
    await weight.fill("0");
    await weight.press("Enter");
    assert.match(await page.locator(".held .problems").innerText(), /from 1 to 400 kg/);
    assert.equal(sent.slice(before).some((b) => "body_weight_kg" in b), false);
    await weight.fill("80");
    await weight.press("Enter");
    await until(async () => sent.some((b) => b.body_weight_kg === 80 && b.place === "eu"));
    // kept over a page loaded anew, and forgotten when that is asked
    await page.reload();
    await toKernel(page);
    assert.equal(sent[sent.length - 1].place ?? sent[sent.length - 2].place, "eu");
    await page.locator(".held summary").click();
    await page.getByRole("button", { name: /Forget it/ }).click();
    await until(async () => (await page.locator(".overs .caution.over").count()) === 1);
    await page.reload();
    await toKernel(page);
    assert.equal(await page.locator(".overs .caution.over").count(), 1);
    await end();
});

test("amounts that are turned are held against the rules anew; until then what stands there is of the amounts before", async () => {
    const { page, end } = await open();
    let letGo = () => undefined;
    const held = new Promise((go) => (letGo = go));
    await page.route("**/api/cautions", async (route) => {
        await held;
        await route.continue();
    });
    await toAmounts(page);
    const at = cinnamon(page).locator(".caution.over");
    assert.match(await at.innerText(), /at most 52 mg\/kg/);
    await lessCinnamon(page);
    await until(async () => (await page.locator(".stale .caution.over").count()) > 0);
    assert.match(await page.locator(".stale-words").innerText(), /of the amounts before/);
    await accessible(page);
    letGo();
    await until(async () => (await at.innerText()).includes("at most 26 mg/kg"));
    assert.equal(await page.locator(".stale").count(), 0);
    assert.equal(await page.locator(".stale-words").innerText(), "");
    assert.match(await page.locator(".overs").innerText(), /26 mg\/kg/);
    await page.getByRole("button", { name: "Put it back" }).click();
    await until(async () => (await at.innerText()).includes("at most 52 mg/kg"));
    await end();
});

test("where they cannot be reckoned anew the page says of which amounts they are", async () => {
    const { page, end } = await open({ expected: [/422/] });
    await page.route("**/api/cautions", (route) =>
        route.fulfill({ status: 422, json: { errors: [{ what: "no", why: "no", try: "no" }] } }),
    );
    await toAmounts(page);
    await lessCinnamon(page);
    await until(async () => /could not be reckoned/.test(await page.locator(".stale-words").innerText()));
    assert.ok((await page.locator(".stale .caution.over").count()) > 0);
    await end();
});
