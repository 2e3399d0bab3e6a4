// Joining by code and name; and the two moments in which this page must not write.
import { go, screen } from "./app.js";
import { big, el } from "./dom.js";
import { newId } from "./ids.js";
import { takeOver } from "./one_tab.js";
import { joinedAs, record } from "./record.js";
import { forget, keep, kept } from "./store.js";
import { begin, join } from "./sync.js";
import { t } from "./words.js";

const asked = () => new URLSearchParams(location.search).get("code") || "";

// Whether the address is another bench's than the one that this phone is at.
export const otherBench = () => Boolean(asked() && record.me && record.me.code && asked().toUpperCase() !== record.me.code);

screen("join", ({ fault = "", code = asked(), name = "" }) => {
  const codeBox = el("input", { id: "code", value: code, autocomplete: "off", autocapitalize: "characters", required: true });
  const nameBox = el("input", { id: "name", value: name, autocomplete: "off", required: true });
  const send = async (event) => {
    event.preventDefault();
    const given = { code: codeBox.value.trim(), name: nameBox.value.trim() };
    if (!given.code || !given.name) return;
    try {
      const device = (await kept("device")) || newId();
      await keep("device", device);
      const told = await join(given.code, device, given.name);
      await forget("next");
      await joinedAs({ ...told, device, name: given.name, code: given.code.toUpperCase() });
      await begin();
      go("now");
    } catch (error) {
      const why = error instanceof TypeError ? t("no_server") : t("join_failed", { why: error.message });
      go("join", { ...given, fault: why });
    }
  };
  return [
    el("h1", {}, t("join_title")),
    fault && el("p", { class: "caution", role: "alert" }, fault),
    el("form", { onsubmit: send },
      el("label", { for: "code" }, t("code")), codeBox,
      el("label", { for: "name" }, t("name")), nameBox,
      el("button", { class: "big first" }, t("join"))),
  ];
}, { still: true });

screen("elsewhere", () => [
  el("h1", {}, t("another_page")),
  big(t("take_over"), () => {
    takeOver(() => go("elsewhere"));
    location.reload();
  }, { class: "big first" }),
]);
