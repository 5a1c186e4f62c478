/** Looking things up in what is sorted, and sorting things out. */

/** The first index below `length` for which `holds` is true, and so for all after it; else `length`. */
export function firstIndex(length: number, holds: (index: number) => boolean): number {
  let low = 0;
  let high = length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (holds(middle)) high = middle;
    else low = middle + 1;
  }
  return low;
}

/** Things by what they have in common, in the order in which it comes first. */
export function grouped<Key, Value>(
  values: Iterable<Value>,
  keyOf: (value: Value) => Key,
): Map<Key, Value[]> {
  const groups = new Map<Key, Value[]>();
  for (const value of values) {
    const key = keyOf(value);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [value]);
    else group.push(value);
  }
  return groups;
}
