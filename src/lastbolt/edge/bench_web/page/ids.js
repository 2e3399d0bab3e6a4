// Random ids from getRandomValues: on plain HTTP there is no crypto.randomUUID.

const SIGNS = "0123456789abcdefghijkmnpqrstuvwxyz";

export function newId(letters = 20) {
  const drawn = new Uint8Array(letters * 2);
  let made = "";
  while (made.length < letters) {
    crypto.getRandomValues(drawn);
    for (const byte of drawn) {
      // Bytes past the last whole run of signs would make some signs likelier.
      if (byte < 256 - (256 % SIGNS.length) && made.length < letters) made += SIGNS[byte % SIGNS.length];
    }
  }
  return made;
}
