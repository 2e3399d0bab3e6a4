// What this device holds: every line of the job, sent or not, the plan, and pictures, in the browser's database.
// A line is on disk before anybody sees its tick.

const NAME = "lastbolt-bench";
const VERSION = 1;
let base = null;

export function open() {
  return new Promise((done, failed) => {
    const asked = indexedDB.open(NAME, VERSION);
    asked.onupgradeneeded = () => {
      asked.result.createObjectStore("lines", { keyPath: "hash" }).createIndex("order", "order");
      asked.result.createObjectStore("kept");
      asked.result.createObjectStore("pictures");
    };
    asked.onsuccess = () => {
      base = asked.result;
      base.onversionchange = () => base.close();
      done();
    };
    asked.onerror = () => failed(asked.error);
    asked.onblocked = () => failed(new Error("blocked"));
  });
}

function within(store, mode, work) {
  return new Promise((done, failed) => {
    const whole = base.transaction(store, mode, { durability: "strict" });
    const asked = work(whole.objectStore(store));
    whole.oncomplete = () => done(asked ? asked.result : undefined);
    whole.onerror = () => failed(whole.error);
    whole.onabort = () => failed(whole.error || new Error("aborted"));
  });
}

export const keep = (key, value) => within("kept", "readwrite", (store) => store.put(value, key));
export const kept = (key) => within("kept", "readonly", (store) => store.get(key));
export const forget = (key) => within("kept", "readwrite", (store) => store.delete(key));
export const addLines = (lines) =>
  within("lines", "readwrite", (store) => {
    for (const line of lines) store.put(line);
  });
export const allLines = () => within("lines", "readonly", (store) => store.index("order").getAll());
export const keepPicture = (id, blob) => within("pictures", "readwrite", (store) => store.put(blob, id));
export const picture = (id) => within("pictures", "readonly", (store) => store.get(id));
export const pictureIds = () => within("pictures", "readonly", (store) => store.getAllKeys());
export const dropPicture = (id) => within("pictures", "readwrite", (store) => store.delete(id));

export async function empty() {
  for (const store of ["lines", "kept", "pictures"]) {
    await within(store, "readwrite", (one) => {
      one.clear();
    });
  }
}
