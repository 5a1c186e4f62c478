/** Sound that no decoder of ours reads, through a converter that is installed. */
import type { OtherKind } from '../../tape/samples/sound-kind.js';
import { SoundError } from '../../tape/sound-error.js';
import { findCommand, start, typedName } from '../common/installed.js';

const CONVERTER = 'ffmpeg';

/** How the converter names what holds each kind. It need not guess, nor open what a file points to. */
const FORMS: Record<OtherKind, string> = {
  'MPEG-4': 'mov',
  AAC: 'aac',
  'Matroska or WebM': 'matroska',
  'Windows Media': 'asf',
  AMR: 'amr',
  CAF: 'caf',
  AU: 'au',
  Ogg: 'ogg',
  Wave64: 'w64',
  'coded WAV': 'wav',
};

/**
 * The first sound of a file as WAV, in pieces as the converter gives them. Throws SoundError.
 * @param file a file on the disk: some kinds have at their end what is needed first
 * @param shown the file's name for the message
 * @param note is told what the converter complained of although it went on
 */
export async function* convert(
  file: string,
  shown: string,
  kind: OtherKind,
  note: (words: string) => void,
): AsyncGenerator<Uint8Array> {
  const path = findCommand(CONVERTER);
  if (path === undefined) {
    throw new SoundError(
      `it is ${kind} sound, and no converter for that is installed on this system (looked for ${CONVERTER})`,
      `install ${CONVERTER} and ask again, or convert it where there is one: \`${CONVERTER} -i ${typedName(shown)} ${typedName(wavName(shown))}\``,
    );
  }
  const asked = [
    ...['-nostdin', '-v', 'error', '-protocol_whitelist', 'file,pipe', '-f', FORMS[kind]],
    ...['-i', `file:${file}`, '-map', '0:a:0', '-c:a', 'pcm_f32le', '-f', 'wav', 'pipe:1'],
  ];
  const { child, end } = start(path, asked, 'pipe');
  try {
    for await (const piece of child.stdout!) yield piece as Buffer;
    const { status, words } = await end;
    const first = wordsOf(words, file);
    if (status !== 0) {
      throw new SoundError(
        `${CONVERTER} could not convert this ${kind} sound: ${first || `it ended with status ${status}`}`,
        'copy or download the file again, or record the tape again',
      );
    }
    if (first !== '') note(`${CONVERTER} says of it: ${first}`);
  } finally {
    child.kill();
  }
}

const wavName = (path: string): string => `${path.replace(/\.[^./\\]*$/, '')}.wav`;

/** The first line of the complaints, without the addresses and the path that they begin with. */
function wordsOf(words: string, file: string): string {
  const bare = words.replace(/\[[^\]\n]*\]\s*/g, '').replaceAll(`file:${file}: `, '');
  return bare.trim().split(/\s*\n/)[0];
}
