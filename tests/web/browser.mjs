// One browser, one place to ask: the mock by default, a real server where STILLROOM_URL names one.  Any violation of
// the content policy, any error on the console, any page that is wider than its window fails the test that met it.
import assert from "node:assert/strict";
import { createRequire } from "node:module";
import { fileURLToPath } from "node:url";
import { dirname, join } from "node:path";
import { serve } from "./mock.mjs";

const here = dirname(fileURLToPath(import.meta.url));
const need = createRequire(join(here, "../../web/package.json"));
const { chromium } = need("playwright-core");
export const { AxeBuilder } = need("@axe-core/playwright");

export const PHONE = { width: 390, height: 844 };
export const LAPTOP = { width: 1440, height: 900 };
export const SMALL = { width: 320, height: 640 };

// What is waited for is a state of the page; this is only where waiting ends, on a machine that has other work to do.
const PATIENCE = 120000;

const given = process.env.STILLROOM_URL;
export const isReal = Boolean(given);
let mock = null;
let browser = null;

export async function start({ wait = 0 } = {}) {
    browser = await chromium.launch({
        executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
        args: ["--no-sandbox"],
        headless: true,
        timeout: PATIENCE,
    });
    if (!given) mock = await serve(join(here, "../../build/web"), 0, wait);
    return address();
}

export function address() {
    return given ? given.replace(/\/?$/, "/") : mock.url;
}

export async function stop() {
    await browser?.close();
    mock?.server.closeAllConnections?.();
    mock?.server.close();
}

/** A page that keeps what goes wrong in it; `end` fails on any of it. */
export async function open({ viewport = PHONE, expected = [], ...options } = {}) {
    const context = await browser.newContext({ viewport, hasTouch: viewport.width < 600, ...options });
    context.setDefaultTimeout(PATIENCE);
    context.setDefaultNavigationTimeout(PATIENCE);
    const page = await context.newPage();
    const wrong = [];
    page.on("console", (m) => {
        if (m.type() === "error" || m.type() === "warning") wrong.push(`console: ${m.text()}`);
    });
    page.on("pageerror", (e) => wrong.push(`page: ${e.stack ?? e.message}`));
    await page.exposeFunction("policyViolated", (text) => wrong.push(`policy: ${text}`));
    await page.addInitScript(() => {
        document.addEventListener("securitypolicyviolation", (e) =>
            window.policyViolated(`${e.violatedDirective} ${e.blockedURI} ${e.sourceFile}:${e.lineNumber}`),
        );
    });
    await page.goto(address());
    await page.waitForSelector("h1");
    const end = async () => {
        await page.waitForTimeout(30);
        await page.unrouteAll({ behavior: "ignoreErrors" }); // an answer may still be on its way
        await context.close();
        assert.deepEqual(
            wrong.filter((w) => !expected.some((e) => e.test(w))),
            [],
        );
    };
    return { page, end, wrong };
}

/** Polls from here: the page's policy forbids what the browser driver would evaluate in it. */
export async function until(isDone, most = PATIENCE) {
    const end = Date.now() + most;
    while (!(await isDone())) {
        if (Date.now() > end) assert.fail(`not so after ${most} ms: ${isDone}`);
        await new Promise((r) => setTimeout(r, 25));
    }
}

export async function noOverflow(page) {
    const wide = await page.evaluate(() => {
        const limit = document.documentElement.clientWidth;
        if (document.documentElement.scrollWidth <= limit) return [];
        return [...document.querySelectorAll("body *")]
            .filter((e) => e.getBoundingClientRect().right > limit + 1)
            .slice(0, 8)
            .map(
                (e) =>
                    `${e.tagName}.${e.getAttribute("class")} ${Math.round(e.getBoundingClientRect().right)} > ${limit}`,
            );
    });
    assert.deepEqual(wide, []);
}

export async function accessible(page) {
    const { violations } = await new AxeBuilder({ page }).analyze();
    assert.deepEqual(
        violations.map(
            (v) =>
                `${v.id}: ${v.help}: ${v.nodes
                    .slice(0, 3)
                    .map(
                        (n) =>
                            `${n.html.slice(0, 140)} ${n.any[0]?.message ?? n.all[0]?.message ?? n.none[0]?.message ?? ""}`,
                    )
                    .join(" | ")}`,
        ),
        [],
    );
}

/** From the first page to the bottle; returns how many taps it took after the paste. */
export async function toBottle(page, tap = (l) => l.click()) {
    let taps = 0;
    const press = async (name) => {
        await tap(page.getByRole("button", { name, exact: true }));
        taps++;
    };
    if (!(await page.locator("#words").inputValue()))
        await page.getByRole("button", { name: "Use an invented sample" }).click();
    await press("Read it");
    await page.getByRole("heading", { name: "Your words, read as" }).waitFor();
    await press("What will I get?");
    await page.locator(".trio .figure").first().waitFor();
    return taps;
}
