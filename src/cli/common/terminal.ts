/** What a terminal shows: colours, and nothing that a listing or a name could steer it with. */
import { visible } from '../../markup/visible.js';

/** Select Graphic Rendition numbers (ECMA-48) for the parts of a message, and to end them. */
const STYLES = {
  plain: '0',
  error: '1;31',
  warning: '1;33',
  note: '1;36',
  place: '1',
  quiet: '2',
  inverse: '7',
} as const;

export type Style = keyof typeof STYLES;

/**
 * Within messages a style is a code point that is no character, U+FDD0 and on; only what is sent
 * to the terminal has the control sequence. So a message can be made safe when it is whole.
 */
const FIRST_MARK = 0xfdd0;
const MARKS = new Map(
  Object.values(STYLES).map((numbers, at) => [String.fromCharCode(FIRST_MARK + at), numbers]),
);
const markOf = (style: Style): string =>
  String.fromCharCode(FIRST_MARK + Object.keys(STYLES).indexOf(style));

/** A text in a style, within a message. */
export function styled(text: string, style: Style): string {
  return `${markOf(style)}${text}${markOf('plain')}`;
}

/** A message as it is sent: its styles as control sequences, everything else safe to show. */
export function sendable(message: string): string {
  return message.replace(/[\ufdd0-\ufdd6]|[^\ufdd0-\ufdd6]+/g, (part) => {
    const numbers = MARKS.get(part);
    return numbers === undefined ? visible(part) : `\u001b[${numbers}m`;
  });
}

/** Is colour wanted on this stream? Only on a terminal, and never with NO_COLOR (no-color.org). */
export function wantsColour(stream: NodeJS.WriteStream): boolean {
  return Boolean(stream.isTTY) && !process.env.NO_COLOR && process.env.TERM !== 'dumb';
}
