// Takes the README's pictures of the demo job, at the size of a phone.

import { fileURLToPath } from "node:url";
import { PHONE, Server, browser, open } from "./support.mjs";

const chrome = await browser();
const server = await Server.over("demo");
const page = await open(chrome, { viewport: PHONE });
await page.goto(server.url);
const job = server.url + (await page.getAttribute(".list a", "href"));
for (const [name, place] of [["wall", "/walls/A"], ["layout", "/layout"], ["saw", "/cuts"], ["board", "/board"]]) {
  await page.goto(job + place);
  const path = fileURLToPath(new URL(`shots/${name}.jpg`, import.meta.url));
  await page.screenshot({ path, type: "jpeg", quality: 70 });
}
await chrome.close();
await server.remove();
