/** A page as HTML text that needs nothing else: no font, script or picture from anywhere. */
import { element, escapeMarkup, policyMeta } from './markup.js';

export interface PageScript {
  readonly text: string;
  /** Its hash for the policy, as `sha256-…`; a test holds it to the text. */
  readonly hash: string;
}

interface Page<Body> {
  readonly title: string;
  readonly style: string;
  readonly body: Body;
  readonly script?: PageScript;
  /** Does the page hold pictures, as `data:` addresses? */
  readonly pictures?: boolean;
}

/** A whole page; `style` and `body` are markup already, the title is text. */
export const htmlPage = (page: Page<string>): string =>
  [...htmlPieces({ ...page, body: [page.body] })].join('');

/** The same piece by piece, for one that is long. */
export function* htmlPieces(page: Page<Iterable<string>>): Generator<string> {
  const { title, style, body, script, pictures } = page;
  yield [
    '<!doctype html>',
    '<html lang="en"><head><meta charset="utf-8"/><meta name="viewport" content="width=device-width"/>',
    policyMeta(script === undefined ? [] : [script.hash], pictures),
    `${element('title', {}, escapeMarkup(title))}<style>${style}</style></head>`,
    '<body>',
  ].join('\n');
  yield* body;
  yield `${script === undefined ? '' : `<script>${script.text}</script>`}</body></html>\n`;
}
