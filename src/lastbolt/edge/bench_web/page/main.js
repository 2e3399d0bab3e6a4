// The bench page: one document for a whole lesson, with or without the network.
import { go, refresh, say } from "./app.js";
import { byId } from "./dom.js";
import "./differ.js";
import "./hold.js";
import { otherBench } from "./join.js";
import { loadWalk } from "./joint.js";
import "./more.js";
import "./now.js";
import "./photos.js";
import "./pictures.js";
import "./stuck.js";
import "./trays.js";
import { takeOver } from "./one_tab.js";
import { load, onRecord, record } from "./record.js";
import { kept, open } from "./store.js";
import { begin, link, onLink, recall } from "./sync.js";
import { learn, speak, t } from "./words.js";

const AGAIN_MS = 1500;
addEventListener("unhandledrejection", (event) => say(t("trouble", { why: String(event.reason && event.reason.message) })));

// Without its words the page could say nothing: it waits for the network, and says so in both languages.
async function learnAtLast() {
  for (;;) {
    try {
      return await learn();
    } catch {
      byId("main").textContent = "No network. Wait … / Sin red. Espera …";
      await new Promise((done) => { setTimeout(done, AGAIN_MS); });
    }
  }
}

async function start() {
  await learnAtLast();
  speak(navigator.language.slice(0, 2));
  await open();
  speak((await kept("language")) || navigator.language.slice(0, 2));
  takeOver(() => go("elsewhere"));
  await load();
  await loadWalk();
  await recall();
  onRecord(refresh);
  onLink(() => {
    if (link.refused.length) say(t("refused_lines", { why: (link.refused[0].problem || {}).what || "?" }));
    refresh();
  });
  if (record.me && otherBench()) go("leave", { other: true });
  else go(record.me ? "now" : "join");
  if (record.me) await begin();
}

start();
