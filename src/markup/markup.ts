/** Text within HTML and SVG, their elements, and the policy that pages and pictures carry. */
import { visible } from './visible.js';

const NAMED: Record<string, string> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/**
 * Text as it stands in HTML and SVG, also within the quotes of an attribute. What no page may hold,
 * and what would turn the order of what is read, stands as its code.
 */
export function escapeMarkup(text: string): string {
  return visible(text).replace(/[&<>"']/g, (character) => NAMED[character]);
}

export type Attributes = Readonly<Record<string, string | number | undefined>>;

/**
 * An element. Values of attributes are escaped, numbers rounded to hundredths, and undefined ones
 * left out; what is in it is markup already.
 */
export function element(
  name: string,
  attributes: Attributes,
  ...inside: readonly string[]
): string {
  const begin = `<${name}${attributesText(attributes)}`;
  return inside.length === 0 ? `${begin}/>` : `${begin}>${inside.join('')}</${name}>`;
}

export function attributesText(attributes: Attributes): string {
  return Object.entries(attributes)
    .filter(([, value]) => value !== undefined)
    .map(([name, value]) => ` ${name}="${valueText(value!)}"`)
    .join('');
}

const valueText = (value: string | number): string =>
  typeof value === 'number' ? String(Math.round(value * 100) / 100) : escapeMarkup(value);

/**
 * The policy of a page or picture as a `meta` element: nothing is fetched, and no script runs but
 * those whose hash is named, as `sha256-…` (Content Security Policy, Level 3). Pictures that the page
 * itself holds, as `data:` addresses, are shown where it says so.
 */
export function policyMeta(scripts: readonly string[] = [], pictures = false): string {
  const policy = [
    "default-src 'none'",
    "style-src 'unsafe-inline'",
    ...(pictures ? ['img-src data:'] : []),
    ...(scripts.length === 0 ? [] : [`script-src ${scripts.map((hash) => `'${hash}'`).join(' ')}`]),
    "base-uri 'none'",
    "form-action 'none'",
  ].join('; ');
  return `<meta http-equiv="Content-Security-Policy" content="${policy}"/>`;
}
