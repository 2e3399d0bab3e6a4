// The page's own words, as data: one file a language. All are loaded at the start, for later there is no network.

export const LANGUAGES = { en: "English", es: "Español" };
const loaded = {};
let words = {};

export async function learn() {
  for (const language of Object.keys(LANGUAGES)) {
    const answer = await fetch(`words_${language}.json`);
    loaded[language] = await answer.json();
  }
}

export function speak(language) {
  const chosen = Object.hasOwn(LANGUAGES, language) ? language : "en";
  words = loaded[chosen];
  document.documentElement.lang = chosen;
}

export function t(key, values = {}) {
  const found = words[key] || loaded.en[key] || key;
  return found.replace(/\{(\w+)\}/g, (whole, name) => (name in values ? String(values[name]) : whole));
}

// What an event was, in a word or two.
export const did = (tag) => words[`did_${tag}`] || tag;

export const count = (key, number) => t(number === 1 ? `${key}_one` : key, { n: number });
