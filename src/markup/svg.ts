/** Pictures as SVG text: a whole file, and the pieces that pictures are made of. */
import { type Attributes, element, escapeMarkup, policyMeta } from './markup.js';

export interface SvgFile {
  readonly width: number;
  readonly height: number;
  /** What is seen, where that is not all from 0 0 up. */
  readonly viewBox?: readonly [left: number, top: number, width: number, height: number];
  /** What the picture is, for readers that read it out, and as the name of the window. */
  readonly title: string;
  readonly description?: string;
  /** Further attributes of the whole. */
  readonly attributes?: Attributes;
}

/** A whole file, of parts that are markup. */
export function svgFile(file: SvgFile, parts: readonly string[]): string {
  const { width, height, title, description, attributes } = file;
  const viewBox = (file.viewBox ?? [0, 0, width, height]).join(' ');
  const whole = element(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      width,
      height,
      viewBox,
      role: 'img',
      ...attributes,
    },
    [
      '',
      element('title', {}, escapeMarkup(title)),
      ...(description === undefined ? [] : [element('desc', {}, escapeMarkup(description))]),
      // Browsers take a policy from the head of a document, in whatever language the rest of it is.
      element('head', { xmlns: 'http://www.w3.org/1999/xhtml' }, policyMeta()),
      ...parts.filter((part) => part !== ''),
      '',
    ].join('\n'),
  );
  return `${whole}\n`;
}

/** A rectangle. */
export function rect(
  x: number,
  y: number,
  width: number,
  height: number,
  attributes: Attributes = {},
): string {
  return element('rect', { x, y, width, height, ...attributes });
}

/** A straight line. */
export function line(
  x1: number,
  y1: number,
  x2: number,
  y2: number,
  attributes: Attributes,
): string {
  return element('line', { x1, y1, x2, y2, ...attributes });
}

/** Words, which need no escaping before. */
export function text(x: number, y: number, words: string, attributes: Attributes = {}): string {
  return element('text', { x, y, ...attributes }, escapeMarkup(words));
}
