/**
 * The sounds of English that a spelled name needs, and the words they make.
 *
 * Vowels: G. Peterson and H. Barney, Control Methods Used in a Study of the Vowels (1952), table of
 * means for men, from memory. Consonants: the resonances follow D. Klatt, Software for a
 * Cascade/Parallel Formant Synthesizer (1980), table of consonants, from memory; how far the second
 * resonance of a stop bends to its vowel: locus equations as measured by H. Sussman, H. McCaffrey
 * and S. Matthews (1991), from memory and rounded. Lengths and levels: set here by measuring.
 */
import { FIRST_DIGIT, FIRST_LETTER, SPACE, unicodeOfCode } from '../../machine/characters.js';

/** The first three resonances of the mouth, in Hz. */
export type Resonances = readonly [number, number, number];

/** Noise of a narrow place in the mouth, through a resonance of its own. */
export interface Hiss {
  readonly hz: number;
  /** Width of the resonance, in Hz. */
  readonly width: number;
  readonly level: number;
}

/** A stretch of sound in which the mouth aims at one place. */
export interface Part {
  readonly ms: number;
  readonly at: Resonances;
  /** Where it has moved by its end, if it moves. */
  readonly to?: Resonances;
  /** Widths of the resonances in Hz; those of a vowel unless given. */
  readonly widths?: Resonances;
  /** Height of the voice's pulses, 0 unless given. */
  readonly voice?: number;
  /** Height of breath, noise through the same mouth. */
  readonly breath?: number;
  /** How much the voice is muffled by a closed mouth, 0 to 1. */
  readonly muffled?: number;
  /** How far the nose is open, 0 to 1. */
  readonly nose?: number;
  readonly hiss?: readonly Hiss[];
  /** A hiss that bursts out and dies away, not one that swells. */
  readonly burst?: boolean;
  /** Which part of its second and third resonance it takes from the vowel beside it, 0 to 1. */
  readonly bend?: number;
  /** How far its movement reaches into the part beside it, in ms. */
  readonly reach: number;
}

/** Table of Peterson and Barney, men. */
export const VOWELS = {
  iy: [270, 2290, 3010],
  ih: [390, 1990, 2550],
  eh: [530, 1840, 2480],
  ae: [660, 1720, 2410],
  aa: [730, 1090, 2440],
  ao: [570, 840, 2410],
  uh: [440, 1020, 2240],
  uw: [300, 870, 2240],
  ah: [640, 1190, 2390],
  er: [490, 1350, 1690],
} as const satisfies Record<string, Resonances>;

/** Length of a stressed vowel at the end of a word; the weak vowel is short. */
const VOWEL_MS = 300;
const WEAK_MS = 75;

const vowel = (ms: number, at: Resonances, to?: Resonances): readonly Part[] => [
  { ms, at, to, voice: 1, reach: 25 },
];

const VOWEL_SOUNDS: Record<string, readonly Part[]> = {
  ...Object.fromEntries(Object.entries(VOWELS).map(([name, at]) => [name, vowel(VOWEL_MS, at)])),
  // They move, from one of the table to the neighbourhood of another.
  ey: vowel(VOWEL_MS, [480, 1900, 2530], [290, 2270, 2950]),
  ay: vowel(VOWEL_MS, [760, 1200, 2440], [400, 1950, 2550]),
  oy: vowel(VOWEL_MS, [540, 840, 2410], [340, 2100, 2650]),
  aw: vowel(VOWEL_MS, [740, 1300, 2430], [420, 950, 2300]),
  ow: vowel(VOWEL_MS, [540, 1000, 2350], [340, 800, 2250]),
  // That of the plain tube.
  ax: vowel(WEAK_MS, [500, 1450, 2480]),
};

/** Lips, tongue's tip and tongue's back: where the mouth closes, and what bursts from there. */
interface Place {
  readonly at: Resonances;
  readonly bend: number;
  readonly hiss: readonly Hiss[];
}

const noise = (hz: number, width: number, level: number): Hiss => ({ hz, width, level });

const LIPS: Place = {
  at: [220, 900, 2150],
  bend: 0.4,
  hiss: [noise(900, 1200, 0.5), noise(2400, 3000, 0.25)],
};
const TIP: Place = {
  at: [220, 1750, 2850],
  bend: 0.15,
  hiss: [noise(4400, 1500, 0.7), noise(5600, 2000, 0.6)],
};
const BACK: Place = {
  at: [220, 2100, 2500],
  bend: 0.45,
  hiss: [noise(2300, 500, 1.1), noise(4500, 1800, 0.2)],
};

const louder = (hiss: readonly Hiss[], by: number): readonly Hiss[] =>
  hiss.map((one) => ({ ...one, level: one.level * by }));

/** A stop with voice: a murmur behind the closed mouth, then a small burst. */
function voicedStop({ at, bend, hiss }: Place): readonly Part[] {
  return [
    { ms: 70, at, bend, voice: 0.25, muffled: 1, reach: 30 },
    { ms: 12, at, bend, voice: 0.2, hiss: louder(hiss, 1), burst: true, reach: 45 },
  ];
}

/** A stop without: silence, a strong burst, and breath in which the mouth moves on to the vowel. */
function voicelessStop({ at, bend, hiss }: Place): readonly Part[] {
  return [
    { ms: 70, at, bend, reach: 30 },
    { ms: 22, at, bend, hiss, burst: true, reach: 30 },
    {
      ms: 65,
      at: [400, at[1], at[2]],
      hiss: louder(hiss, 0.3),
      burst: true,
      bend: 0.5 + bend / 2,
      widths: [300, 120, 160],
      breath: 0.6,
      reach: 25,
    },
  ];
}

const S_HISS: readonly Hiss[] = [noise(4600, 1300, 0.3), noise(6300, 1600, 0.35)];
const SH_HISS: readonly Hiss[] = [noise(2500, 450, 0.7), noise(3900, 1200, 0.5)];
const F_HISS: readonly Hiss[] = [noise(1500, 2500, 0.05), noise(5500, 5000, 0.12)];
const TH_HISS: readonly Hiss[] = [noise(1500, 2000, 0.04), noise(6500, 3000, 0.1)];
const OPEN_THROAT: Resonances = [200, 120, 170];

const SOUNDS: Record<string, readonly Part[]> = {
  ...VOWEL_SOUNDS,
  b: voicedStop(LIPS),
  d: voicedStop(TIP),
  g: voicedStop(BACK),
  p: voicelessStop(LIPS),
  t: voicelessStop(TIP),
  k: voicelessStop(BACK),
  s: [{ ms: 160, at: [320, 1390, 2530], bend: 0.3, widths: OPEN_THROAT, hiss: S_HISS, reach: 45 }],
  sh: [
    { ms: 150, at: [300, 1840, 2750], bend: 0.2, widths: OPEN_THROAT, hiss: SH_HISS, reach: 50 },
  ],
  f: [{ ms: 150, at: [340, 1100, 2080], bend: 0.4, widths: OPEN_THROAT, hiss: F_HISS, reach: 40 }],
  th: [
    { ms: 130, at: [320, 1290, 2540], bend: 0.3, widths: OPEN_THROAT, hiss: TH_HISS, reach: 40 },
  ],
  z: [
    {
      ms: 110,
      at: [240, 1390, 2530],
      bend: 0.3,
      voice: 0.45,
      muffled: 0.7,
      hiss: louder(S_HISS, 0.5),
      reach: 45,
    },
  ],
  v: [
    {
      ms: 140,
      at: [220, 1100, 2080],
      bend: 0.4,
      voice: 0.4,
      muffled: 0.7,
      hiss: louder(F_HISS, 1.2),
      reach: 40,
    },
  ],
  ch: [
    { ms: 70, at: [220, 1800, 2820], bend: 0.2, reach: 35 },
    { ms: 12, at: [350, 1800, 2820], hiss: louder(SH_HISS, 1.2), burst: true, reach: 10 },
    { ms: 95, at: [350, 1800, 2820], bend: 0.2, hiss: SH_HISS, reach: 45 },
  ],
  jh: [
    { ms: 65, at: [220, 1800, 2820], bend: 0.2, voice: 0.35, muffled: 1, reach: 35 },
    {
      ms: 10,
      at: [260, 1800, 2820],
      hiss: SH_HISS,
      burst: true,
      voice: 0.2,
      muffled: 1,
      reach: 10,
    },
    {
      ms: 60,
      at: [260, 1800, 2820],
      bend: 0.2,
      voice: 0.3,
      muffled: 0.7,
      hiss: louder(SH_HISS, 0.6),
      reach: 45,
    },
  ],
  m: [{ ms: 160, at: [480, 1100, 2130], widths: [60, 200, 200], voice: 0.8, nose: 1, reach: 55 }],
  n: [{ ms: 160, at: [400, 1450, 2550], widths: [60, 250, 300], voice: 0.8, nose: 1, reach: 55 }],
  l: [{ ms: 140, at: [400, 950, 2750], widths: [70, 100, 250], voice: 0.7, reach: 45 }],
  r: [{ ms: 90, at: [330, 1080, 1450], widths: [70, 100, 110], voice: 0.75, reach: 75 }],
  w: [{ ms: 70, at: [290, 640, 2150], widths: [60, 90, 110], voice: 0.7, reach: 75 }],
  y: [{ ms: 70, at: [260, 2150, 3020], widths: [50, 120, 250], voice: 0.7, reach: 75 }],
};

/** Letters as they are spelled; the last one as zed, which cannot be taken for C. */
const LETTERS = [
  'ey|b iy|s iy|d iy|iy|eh f|jh iy|ey ch|ay|jh ey|k ey|eh l|eh m',
  'eh n|ow|p iy|k y uw|aa r|eh s|t iy|y uw|v iy|d ah b ax l y uw|eh k s|w ay|z eh d',
]
  .join('|')
  .split('|');

const DIGITS = 'z ih r ow|w ah n|t uw|th r iy|f ao r|f ay v|s ih k s|s eh v ax n|ey t|n ay n'.split(
  '|',
);

/** Signs by their plain English words: quote, pound, dollar, colon, query, open, close and so on. */
const SIGNS: Record<string, string> = {
  '"': 'k w ow t',
  '£': 'p aw n d',
  $: 'd aa l er',
  ':': 'k ow l ax n',
  '?': 'k w ih r iy',
  '(': 'ow p ax n',
  ')': 'k l ow z',
  '>': 'm ao r', // more
  '<': 'l eh s', // less
  '=': 'iy k w ax l z',
  '+': 'p l ah s',
  '-': 'm ay n ax s',
  '*': 's t aa r',
  '/': 's l ae sh',
  ';': 's eh m iy k ow l ax n',
  ',': 'k aa m ax',
  '.': 'p oy n t',
};

/** What is said for one character: sounds, nothing for a while, or a tone where there is no word. */
export type Utterance = readonly Part[] | 'pause' | 'tone';

/** What a character of a name is said as. Graphics and keywords are a tone: they have no short name. */
export function utteranceOf(code: number): Utterance {
  if (code === SPACE) return 'pause';
  const sign = unicodeOfCode(code) ?? '';
  const word =
    code >= FIRST_LETTER
      ? LETTERS[code - FIRST_LETTER]
      : code >= FIRST_DIGIT
        ? DIGITS[code - FIRST_DIGIT]
        : SIGNS[sign];
  return word === undefined ? 'tone' : partsOf(word.split(' '));
}

const isVowel = (name: string) => name in VOWEL_SOUNDS;
const VOICELESS = new Set(['p', 't', 'k', 'f', 's', 'sh', 'th', 'ch']);

/** The parts of a word: vowels shortened by what follows, stops bent to the vowel beside them. */
function partsOf(word: readonly string[]): readonly Part[] {
  return word.flatMap((name, i) => {
    const parts = SOUNDS[name];
    if (isVowel(name)) {
      const part = parts[0];
      return [{ ...part, ms: Math.round(part.ms * vowelLength(word, i)) }];
    }
    const after = word.slice(i + 1).find(isVowel);
    const before = word.slice(0, i).reverse().find(isVowel);
    const [next] = SOUNDS[after ?? before ?? 'ax'];
    const target = after ? next.at : (next.to ?? next.at);
    return parts.map((part) => bent(part, target));
  });
}

/** Which part of its full length a vowel has here. */
function vowelLength(word: readonly string[], i: number): number {
  if (word[i] === 'ax') return 1;
  const next = word[i + 1];
  if (next === undefined) return 1;
  if (word.slice(i + 1).some(isVowel)) return 0.45;
  return VOICELESS.has(next) ? 0.6 : 0.75;
}

function bent(part: Part, vowelAt: Resonances): Part {
  const { bend = 0, at } = part;
  const mix = (k: 1 | 2) => at[k] + bend * (vowelAt[k] - at[k]);
  return { ...part, at: [at[0], mix(1), mix(2)] };
}
