/** What a file may hold, told by its bytes and not by its name. */

/**
 * The bytes as text; undefined where they are not UTF-8.
 * @param isCut may they end within a character?
 */
export function utf8Text(bytes: Uint8Array, isCut = false): string | undefined {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes, { stream: isCut });
  } catch {
    return undefined;
  }
}
