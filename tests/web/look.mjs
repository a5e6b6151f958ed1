// Pictures of every page, for eyes: look.mjs FOLDER.
import { mkdirSync } from "node:fs";
import { LAPTOP, PHONE, SMALL, open, start, stop, toBottle } from "./browser.mjs";

const out = process.argv[2] ?? "pictures";
mkdirSync(out, { recursive: true });
await start();
const kinds = [
    ["phone", { viewport: PHONE, deviceScaleFactor: 1.5 }],
    ["laptop", { viewport: LAPTOP }],
    ["small", { viewport: SMALL }],
    ["phone-dark", { viewport: PHONE, colorScheme: "dark", deviceScaleFactor: 1.5 }],
    ["laptop-dark", { viewport: LAPTOP, colorScheme: "dark" }],
];
for (const [kind, options] of kinds) {
    const { page, wrong } = await open(options);
    // of the whole page with a window as tall as it is, so that what is pinned stands in its own place
    const shot = async (name, isWhole = false) => {
        if (isWhole) {
            await page.evaluate(() => scrollTo(0, 0));
            const height = await page.evaluate(() => document.documentElement.scrollHeight);
            await page.setViewportSize({ ...options.viewport, height });
            await page.waitForTimeout(150);
        }
        await page.screenshot({ path: `${out}/${kind}-${name}.png` });
        await page.setViewportSize(options.viewport);
    };
    await page.getByRole("button", { name: "Use an invented sample" }).click();
    await shot("1-paste");
    await page.getByRole("button", { name: "Read it" }).click();
    await page.getByRole("heading", { name: "Your words, read as" }).waitFor();
    await page.waitForTimeout(200);
    await shot("2-read");
    await page.goto(`${page.url().split("#")[0]}#recipe`);
    await toBottle(page);
    await page.waitForTimeout(200);
    await shot("3-get");
    await shot("3-get-all", true);
    await page.getByRole("button", { name: "Make it ..." }).click();
    await page.locator(".amount-line").first().waitFor();
    await page.locator("#wish-strength").fill("25 to 27");
    await page.locator("#wish-sugar").fill("170 to 195");
    await page.locator("#wish-bottles").fill("2");
    await page.locator("#wish-bottles").press("Enter");
    await page.waitForTimeout(300);
    await shot("4-make");
    await page.getByRole("checkbox", { name: /^keep bay/ }).check();
    await page.getByRole("button", { name: "In kitchen amounts" }).click();
    await page.waitForTimeout(400);
    await shot("4-make-all", true);
    await page.goto(`${page.url().split("#")[0]}#mix`);
    await page.getByRole("button", { name: "Use an invented sample" }).click();
    await page.getByRole("button", { name: "What will I get?" }).click();
    await page.locator(".trio").waitFor();
    await page.waitForTimeout(200);
    await shot("5-mix", true);
    await page.goto(`${page.url().split("#")[0]}#bottle`);
    await page.locator("#field-sg").fill("1.057");
    await page.locator("#field-brix").fill("26");
    await page.getByRole("button", { name: "Test it" }).click();
    await page.locator(".two svg").waitFor();
    await page.getByLabel("Strength wanted").fill("20 to 22");
    await page.getByLabel("Sugar wanted").fill("185 to 200");
    await page.waitForTimeout(200);
    await shot("6-test", true);
    if (wrong.length) process.stdout.write(`${kind}: ${wrong.join("\n")}\n`);
    await page.context().close();
}
await stop();
