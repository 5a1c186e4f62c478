/** What a file may hold, told by its bytes and not by its name. */

/** Are the bytes UTF-8? */
export function isText(bytes: Uint8Array): boolean {
  try {
    new TextDecoder('utf-8', { fatal: true }).decode(bytes);
    return true;
  } catch {
    return false;
  }
}
