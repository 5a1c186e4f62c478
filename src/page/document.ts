/** The page's document, as the build writes it: every text from the table, no script but the page's own. */
import { type Attributes, element, escapeMarkup } from '../markup/markup.js';
import { TEXTS } from './texts.js';

/**
 * Nothing comes from anywhere else and nothing goes anywhere. Styles stand inline because the
 * editor writes its own; blobs are workers where the page comes from a file system.
 */
export const POLICY = [
  "default-src 'none'",
  "script-src 'self'",
  "worker-src 'self' blob:",
  "style-src 'self' 'unsafe-inline'",
  "img-src 'self' data: blob:",
  'font-src data:',
  "connect-src 'self'",
  "manifest-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
].join('; ');

const e = (name: string, attributes: Attributes = {}, ...inside: string[]): string =>
  element(name, attributes, ...(inside.length === 0 ? [''] : inside));
const words = escapeMarkup;

const button = (id: string, label: string, attributes: Attributes = {}): string =>
  e('button', { id, type: 'button', ...attributes }, words(label));

const field = (label: string, control: string): string =>
  e('label', { class: 'field' }, e('span', {}, words(label)), control);

const select = (id: string, label: string, ...options: string[]): string =>
  field(label, e('select', { id }, ...options));

const bar = (...inside: string[]): string => e('div', { class: 'bar' }, ...inside);

const quiet = (text: string, attributes: Attributes = {}): string =>
  e('p', { class: 'quiet', ...attributes }, words(text));

/** A part of the page, or a dialog, that its heading names. */
const titled = (name: string, id: string, title: string, ...inside: string[]): string =>
  e(
    name,
    { id, 'aria-labelledby': `${id}-title` },
    e('h2', { id: `${id}-title`, tabindex: -1 }, words(title)),
    ...inside,
  );

const section = (id: string, title: string, ...inside: string[]): string =>
  titled('section', id, title, ...inside);

function listing(): string {
  const t = TEXTS.listing;
  return section(
    'listing',
    t.title,
    bar(
      select('draft', t.draft),
      button('draft-new', t.new),
      button('draft-delete', t.delete),
      select('sample', t.sample),
      button('open', t.open),
      select('ram', t.ram),
    ),
    e('p', { id: 'listing-note', class: 'caution', role: 'status' }),
    e('div', { id: 'editor' }),
    e('div', { id: 'paper' }),
    e('p', { id: 'verdict', class: 'verdict', role: 'status' }),
    e(
      'div',
      { id: 'fit', hidden: '' },
      e('div', { id: 'map', class: 'map', role: 'img', 'aria-label': TEXTS.fit.title }),
      e(
        'details',
        { id: 'map-details' },
        e('summary', {}, words(TEXTS.fit.table)),
        e('div', { id: 'map-table', class: 'scrolls', tabindex: 0 }),
      ),
    ),
    bar(button('tidy', t.tidy), button('share', t.share), button('save-listing', t.save)),
    e('h3', { id: 'findings-title' }, words(TEXTS.findings.title)),
    e('p', { id: 'findings-none', class: 'quiet', role: 'status' }, words(TEXTS.findings.waiting)),
    e('div', { id: 'savings', class: 'bar' }),
    e('ul', { id: 'findings', class: 'rows', 'aria-labelledby': 'findings-title' }),
  );
}

function machine(): string {
  const t = TEXTS.machine;
  return section(
    'machine',
    t.title,
    e(
      'div',
      { id: 'glass', class: 'glass', tabindex: 0, role: 'application', 'aria-label': t.screen },
      e('canvas', { id: 'screen', 'aria-hidden': 'true' }),
    ),
    e('p', { id: 'report', class: 'report', role: 'status' }, words(t.off)),
    bar(
      button('run', t.run, { class: 'main' }),
      button('pause', t.pause, { disabled: '' }),
      button('step', t.step),
      button('break', t.stop, { disabled: '' }),
      button('here', t.here),
      button('restart', t.restart, { disabled: '' }),
      select(
        'pace',
        t.pace,
        ...Object.entries(t.paces).map(([value, label]) => e('option', { value }, words(label))),
      ),
    ),
    e('div', { id: 'keys', class: 'keys', role: 'group', 'aria-label': t.keyboard }),
    e(
      'div',
      { id: 'in-use', hidden: '' },
      e('p', { id: 'now', class: 'quiet' }),
      e('div', { id: 'now-map', class: 'map', 'aria-hidden': 'true' }),
      e('canvas', { id: 'ledger', class: 'ledger', 'aria-hidden': 'true' }),
      quiet(t.ledger, { 'aria-hidden': 'true' }),
    ),
    e('ul', { id: 'remarks', class: 'rows quiet' }),
    e(
      'details',
      { id: 'screen-details' },
      e('summary', {}, words(t.screenText)),
      e('pre', { id: 'screen-text', tabindex: 0, 'aria-label': t.screenText }, words(t.empty)),
    ),
  );
}

function socket(): string {
  const t = TEXTS.socket;
  const check = (id: string, label: string): string =>
    e('label', { class: 'check' }, element('input', { id, type: 'checkbox' }), words(label));
  return section(
    'socket',
    t.title,
    e('p', { class: 'caution' }, words(t.caution)),
    e(
      'div',
      { class: 'columns' },
      e(
        'div',
        {},
        e('h3', {}, words(t.playTitle)),
        bar(
          button('play', t.play, { class: 'main' }),
          field(
            t.level,
            element('input', { id: 'level', type: 'range', min: 5, max: 100, value: 80 }),
          ),
          check('invert', t.invert),
          check('rounded', t.rounded),
        ),
        element('progress', { id: 'played', max: 1, value: 0, 'aria-label': t.progress }, ''),
        e('p', { id: 'time-left', class: 'quiet', role: 'status' }),
        quiet(t.silent),
        bar(button('save-image', t.saveImage), button('save-sound', t.saveSound)),
      ),
      e(
        'div',
        {},
        e('h3', {}, words(t.listenTitle)),
        quiet(t.listenHelp),
        bar(
          button('listen', t.listen),
          element(
            'meter',
            {
              id: 'meter',
              min: 0,
              max: 1,
              low: 0.05,
              high: 0.97,
              optimum: 0.5,
              value: 0,
              'aria-label': t.meter,
            },
            '',
          ),
          e('span', { id: 'meter-words', role: 'status' }),
        ),
        e('p', { id: 'socket-note', role: 'status' }),
        e('ul', { id: 'heard', class: 'rows' }),
        e(
          'div',
          { id: 'drop', class: 'drop' },
          e('p', {}, words(t.drop)),
          button('choose', t.choose),
        ),
      ),
    ),
  );
}

function typing(): string {
  const t = TEXTS.typing;
  return section(
    'typing',
    t.title,
    quiet(t.help),
    bar(
      button('typing-start', t.start),
      e(
        'div',
        { id: 'typing-steps', class: 'bar', hidden: '' },
        select('typing-line', t.line),
        button('typing-back', t.back, { disabled: '' }),
        button('typing-next', t.next, { class: 'main', disabled: '' }),
      ),
    ),
    e('p', { id: 'typing-key', class: 'typing-key', role: 'status' }),
    e('p', { id: 'typing-place', class: 'quiet' }),
    e('div', { id: 'typing-board', class: 'typing-board' }),
  );
}

function dialog(
  id: string,
  title: string,
  inside: readonly string[],
  act: string,
  close: string = TEXTS.close,
): string {
  const ends = e('div', { class: 'bar end' }, button(`${id}-close`, close), act);
  return titled('dialog', id, title, ...inside, ends);
}

function dialogs(): string {
  const { socket: s, listing: l, pageOfText: p } = TEXTS;
  return [
    dialog(
      'caution',
      s.cautionTitle,
      [e('p', {}, words(s.caution)), e('p', {}, words(s.silent))],
      button('caution-yes', s.understood, { class: 'main' }),
    ),
    dialog(
      'link',
      l.shareTitle,
      [
        e('p', {}, words(l.shareHelp)),
        element('input', { id: 'link-text', readonly: '', 'aria-label': l.shareTitle }),
        e('p', { id: 'link-note', role: 'status' }),
      ],
      button('link-copy', l.copy, { class: 'main' }),
    ),
    dialog(
      'erase',
      l.deleteTitle,
      [e('p', { id: 'erase-words' })],
      button('erase-yes', l.deleteYes, { class: 'main' }),
      l.deleteNo,
    ),
    dialog(
      'scan',
      p.title,
      [
        e('p', { id: 'scan-help', role: 'status' }),
        e('ul', { id: 'scan-questions', class: 'rows' }),
        e('h3', {}, words(p.result)),
        e('pre', { id: 'scan-text', tabindex: 0, 'aria-label': p.result }),
      ],
      button('scan-open', p.open, { class: 'main' }),
    ),
  ].join('');
}

export function documentText(): string {
  const { foot } = TEXTS;
  return [
    '<!doctype html>',
    `<html lang="${TEXTS.lang}"><head><meta charset="utf-8"/>`,
    element('meta', { 'http-equiv': 'Content-Security-Policy', content: POLICY }),
    // Before all that takes time: a worker begins only while the page's own thread is free.
    '<script src="early.js"></script>',
    element('meta', { name: 'viewport', content: 'width=device-width, initial-scale=1' }),
    element('meta', { name: 'referrer', content: 'no-referrer' }),
    element('meta', { name: 'color-scheme', content: 'light dark' }),
    ...Object.entries({ light: '#fdfdfb', dark: '#15181a' }).map(([scheme, content]) =>
      element('meta', { name: 'theme-color', content, media: `(prefers-color-scheme: ${scheme})` }),
    ),
    e('title', {}, words(TEXTS.title)),
    element('meta', { name: 'description', content: TEXTS.lede }),
    element('link', { rel: 'icon', href: 'icon.svg', type: 'image/svg+xml' }),
    element('link', { rel: 'manifest', href: 'manifest.webmanifest' }),
    element('link', { rel: 'stylesheet', href: 'page.css' }),
    '<script src="page.js" defer></script></head><body>',
    e('a', { class: 'skip', href: '#listing-title' }, words(TEXTS.skip)),
    e('header', {}, e('h1', {}, words(TEXTS.name)), e('p', {}, words(TEXTS.lede))),
    e(
      'nav',
      { 'aria-label': TEXTS.parts },
      ...Object.entries(TEXTS.goTo).map(([id, label]) =>
        e('a', { href: `#${id}-title` }, words(label)),
      ),
    ),
    e('noscript', {}, e('p', {}, words(TEXTS.noScript))),
    e('p', { id: 'fault', class: 'caution', role: 'alert', hidden: '' }),
    e('main', {}, listing(), machine(), socket(), typing()),
    e(
      'footer',
      {},
      e('p', {}, words(foot.danger)),
      e('p', {}, words(foot.private), ' ', e('a', { href: 'licences.txt' }, words(foot.licences))),
    ),
    dialogs(),
    element('input', {
      id: 'file',
      type: 'file',
      hidden: '',
      multiple: '',
      'aria-label': TEXTS.socket.choose,
    }),
    '</body></html>',
    '',
  ].join('\n');
}
