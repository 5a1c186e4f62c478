/** MID$, LEFT$ and RIGHT$ of other dialects, as slices. */

/** In brackets, unless it is a name or a number. */
export const bracketed = (text: string): string =>
  /^[A-Z0-9.]+$/i.test(text) ? text : `(${text})`;

const isWhole = (text = ''): boolean => /^\d+$/.test(text);

/** The slice of what such a function is called with; undefined where a value is missing. */
export function sliceText(
  kind: string,
  [value, first, count]: readonly string[],
): string | undefined {
  if (value === undefined || first === undefined) return undefined;
  const base = /^(?:[A-Z]\$(?:\([^()]*\))?|"[^"]*")$/i.test(value) ? value : `(${value})`;
  if (kind === 'LEFT') return `${base}( TO ${first})`;
  if (kind === 'RIGHT') {
    const less = isWhole(first) ? `-${Number(first) - 1}` : `-${bracketed(first)}+1`;
    return `${base}(LEN ${base}${less === '-0' ? '' : less} TO )`;
  }
  if (count === undefined) return `${base}(${first} TO )`;
  if (count === '1') return `${base}(${first})`;
  const more = isWhole(count) ? `+${Number(count) - 1}` : `+${bracketed(count)}-1`;
  const last = isWhole(first) && isWhole(count) ? Number(first) + Number(more) : first + more;
  return `${base}(${first} TO ${last})`;
}
