// The sources' own drawings and print: fetched while there is a network, kept on this device for the whole lesson.
import { go, screen } from "./app.js";
import { big, el } from "./dom.js";
import { record } from "./record.js";
import { keepPicture, picture, pictureIds } from "./store.js";
import { askBlob, link, onLink } from "./sync.js";
import { t } from "./words.js";

const held = new Set();
const urls = new Map();
let fetching = false;

const given = () => (link.plan && link.plan.pictures) || {};

// One after the other, behind everything else; what did not come is asked for with the next news.
async function fetchAll() {
  if (fetching || !link.online || !record.me) return;
  fetching = true;
  try {
    if (!held.size) for (const key of await pictureIds()) held.add(key);
    for (const { key } of Object.values(given()).flat()) {
      if (held.has(key)) continue;
      await keepPicture(key, await askBlob(`api/jobs/${record.me.job}/pictures/${key}`));
      held.add(key);
    }
  } catch {
    // Without them the words are there, and where they stand.
  } finally {
    fetching = false;
  }
}
onLink(fetchAll);

export const hasPictures = (line) => Boolean((given()[line.id] || []).length);

async function shown(image, key, missing) {
  const blob = urls.has(key) ? null : await picture(key);
  if (blob) urls.set(key, URL.createObjectURL(blob));
  if (urls.has(key)) image.src = urls.get(key);
  image.hidden = !urls.has(key);
  missing.hidden = urls.has(key);
}

screen("page", ({ line, source }) => {
  const figures = (given()[line.id] || []).map(({ key, title }) => {
    const image = el("img", { alt: title, hidden: true });
    const missing = el("p", { hidden: true }, t("no_picture"));
    shown(image, key, missing);
    return el("figure", {}, image, missing, el("figcaption", {}, title));
  });
  return [el("h1", {}, line.words), el("p", { class: "source" }, source), figures, big(t("back"), () => go("now"))];
}, { still: true });
