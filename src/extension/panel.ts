/** The panel's page: what a command of the server gave, as one HTML document without any script. */
import type { Outcome } from '../language-server/commands.js';
import { element, escapeMarkup } from '../markup/markup.js';
import { htmlPage } from '../markup/page.js';

const STYLE = `
  body { font: 14px/1.5 system-ui, sans-serif; max-width: 60rem; margin: 0 auto; padding: 12px 20px; }
  p { white-space: pre-line; }
  figure { margin: 0 0 24px; }
  img { max-width: 100%; height: auto; background: #fff; border-radius: 6px; }
  pre { font: 12px/1.3 ui-monospace, monospace; overflow-x: auto; }
  summary { cursor: pointer; }
`;

/** The page for an outcome. Pictures are images of their own, so that nothing in them can act. */
export function panelPage({ message, text, pictures = [] }: Outcome): string {
  const figures = pictures.map(({ title, svg }) => {
    const src = `data:image/svg+xml;base64,${Buffer.from(svg).toString('base64')}`;
    return element('figure', {}, element('img', { alt: title, src }));
  });
  const asText = element(
    'details',
    {},
    element('summary', {}, 'The same as text'),
    element('pre', {}, escapeMarkup(text ?? '')),
  );
  return htmlPage({
    title: 'Listwright',
    style: STYLE,
    pictures: true,
    body: [
      element('p', {}, escapeMarkup(message)),
      ...figures,
      ...(text === undefined ? [] : [asText]),
    ].join('\n'),
  });
}
