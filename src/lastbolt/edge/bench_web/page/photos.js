// Photos by file capture: drawn anew on a canvas, so that neither the place nor the camera goes with them; kept
// here before anything else, and sent when there is a network. A photo alone clears nothing.
import { go, note, say, screen } from "./app.js";
import { big, el } from "./dom.js";
import { joint, standing } from "./job.js";
import { labelOf } from "./joint.js";
import { record } from "./record.js";
import { sha256OfBytes } from "./sha256.js";
import { keep, keepPicture, picture } from "./store.js";
import { askBlob, link, nameOf } from "./sync.js";
import { t } from "./words.js";

const MOST_PX = 1600;
const MOST_BYTES = 240000;
const QUALITIES = [0.82, 0.7, 0.55, 0.4, 0.25];
const urls = new Map();

async function small(file) {
  const whole = await createImageBitmap(file);
  for (let most = MOST_PX; ; most *= 0.7) {
    const scale = Math.min(1, most / Math.max(whole.width, whole.height));
    const sheet = el("canvas", { width: Math.max(1, Math.round(whole.width * scale)), height: Math.max(1, Math.round(whole.height * scale)) });
    sheet.getContext("2d").drawImage(whole, 0, 0, sheet.width, sheet.height);
    for (const quality of QUALITIES) {
      const blob = await new Promise((done) => { sheet.toBlob(done, "image/jpeg", quality); });
      if (blob && blob.size <= MOST_BYTES) return blob;
    }
    if (most < 200) return null;
  }
}

async function take(file, places) {
  const blob = await small(file).catch(() => null);
  if (!blob) return say(t("no_photo"));
  const name = `${sha256OfBytes(new Uint8Array(await blob.arrayBuffer()))}.jpg`;
  await keepPicture(name, blob);
  link.photos = [...link.photos, name];
  await keep("photos", link.photos);
  return note(t("photo_kept"), { event: "photo", joint: joint().joint, file: name, places });
}

// A button that opens the camera, or the phone's pictures.
export function camera(places) {
  const chooser = el("input", { type: "file", accept: "image/*", capture: "environment" });
  chooser.addEventListener("change", () => chooser.files.length && take(chooser.files[0], places));
  return big(t("take_photo"), () => chooser.click());
}

const all = () => standing().filter((one) => one.event.body.event === "photo");

export const album = () => (all().length ? big(t("photos", { n: all().length }), () => go("photos")) : null);

async function shown(image, name, missing) {
  if (!urls.has(name)) {
    let blob = await picture(name);
    if (!blob && link.online) {
      blob = await askBlob(`api/jobs/${record.me.job}/photos/${name}`).catch(() => null);
      if (blob) await keepPicture(name, blob);
    }
    if (blob) urls.set(name, URL.createObjectURL(blob));
  }
  if (urls.has(name)) image.src = urls.get(name);
  image.hidden = !urls.has(name);
  missing.hidden = urls.has(name);
}

function words(event) {
  const given = joint();
  const places = (event.body.places || []).map((id) => labelOf((given && given.places.find((one) => one.id === id)) || { id }));
  return [places.length ? t("walk_title", { label: places.join(", ") }) : "", nameOf(event.by), (event.time || "").slice(11, 16)].filter(Boolean).join(" · ");
}

screen("photos", () => [
  el("h1", {}, t("photos", { n: all().length })), el("p", {}, t("photo_clears_nothing")),
  all().map(({ event }) => {
    const image = el("img", { alt: words(event), hidden: true });
    const missing = el("p", { hidden: true }, t("no_picture"));
    shown(image, event.body.file, missing);
    return el("figure", {}, image, missing, el("figcaption", {}, words(event)));
  }),
  big(t("back"), () => go("joint")),
], { still: true });
