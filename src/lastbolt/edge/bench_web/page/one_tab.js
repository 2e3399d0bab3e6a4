// Two pages of one device would write two events of one number. The page that was opened last writes;
// the other says so and stops. Works without navigator.locks, which plain HTTP does not have.
import { newId } from "./ids.js";

const MINE = newId(12);
const KEY = "lastbolt-open-page";

export function takeOver(lost) {
  localStorage.setItem(KEY, MINE);
  addEventListener("storage", (event) => {
    if (event.key === KEY && event.newValue !== MINE) lost();
  });
}

export const isMine = () => localStorage.getItem(KEY) === MINE;
