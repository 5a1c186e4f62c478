/** Bytes in rows, without what only Node has, so that it works in a browser too. */

/** Are these the same bytes? */
export function sameBytes(left: Uint8Array, right: Uint8Array): boolean {
  if (left.length !== right.length) return false;
  for (let at = 0; at < left.length; at++) if (left[at] !== right[at]) return false;
  return true;
}

/** The bytes of these, one after another; those of one alone are not copied. */
export function joined(parts: readonly Uint8Array[]): Uint8Array {
  if (parts.length === 1) return parts[0];
  const all = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    all.set(part, at);
    at += part.length;
  }
  return all;
}
