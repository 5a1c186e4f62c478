/** Small helpers over the document: no text ever becomes markup. */

/** An element of the page, by its id. */
export function $<E extends HTMLElement = HTMLElement>(id: string): E {
  const found = document.getElementById(id);
  if (found === null) throw new Error(`the page has no #${id}`);
  return found as E;
}

type Properties = Readonly<Record<string, unknown>>;

/** Makes an element: properties that it has are set, others become attributes; strings are text. */
export function make<K extends keyof HTMLElementTagNameMap>(
  name: K,
  properties: Properties = {},
  ...inside: readonly (Node | string)[]
): HTMLElementTagNameMap[K] {
  const element = document.createElement(name);
  for (const [key, value] of Object.entries(properties)) {
    if (value === undefined) continue;
    if (key in element) (element as unknown as Record<string, unknown>)[key] = value;
    else element.setAttribute(key, String(value));
  }
  element.append(...inside);
  return element;
}

/** Words with `code` in them. */
export function withCode(words: string): (Node | string)[] {
  return words
    .split('`')
    .map((piece, index) => (index % 2 === 1 ? make('code', {}, piece) : piece));
}

/** A button that does something. */
export function button(words: string, act: () => void, properties: Properties = {}) {
  return make('button', { type: 'button', onclick: act, ...properties }, words);
}

/** Lets something be done once calls have rested for so many milliseconds. */
export function rested(milliseconds: number, act: () => void): () => void {
  let timer: ReturnType<typeof setTimeout> | undefined;
  return () => {
    clearTimeout(timer);
    timer = setTimeout(act, milliseconds);
  };
}

/** Says something; the same words are not said again: a screen reader would read them again. */
export function setText(element: HTMLElement, words: string): void {
  if (element.textContent !== words) element.textContent = words;
}

/** What kinds of files are saved: their types, and what one is called that has no name. */
const FILES = {
  bas: { type: 'text/plain', nameless: 'listing' },
  img: { type: 'application/octet-stream', nameless: 'program' },
  wav: { type: 'audio/wav', nameless: 'program' },
};

/** Hands a file to the browser to keep, its name made of the letters and digits of a title. */
export function saveFile(title: string, kind: keyof typeof FILES, content: BlobPart): void {
  const { type, nameless } = FILES[kind];
  const plain = title
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '');
  const address = URL.createObjectURL(new Blob([content], { type }));
  const link = make('a', { href: address, download: `${plain || nameless}.${kind}` });
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
}
