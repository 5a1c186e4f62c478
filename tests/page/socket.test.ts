/** The socket: sound out and in, files of every kind, and the keys to press. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Mp3Encoder } from '@breezystack/lamejs';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import {
  buildImage,
  codesOfText,
  readListing,
  recordProgram,
  recoverPrograms,
} from '../../src/index.js';
import { secondsOnTape } from '../../src/tape/writing/record.js';
import { HEADER_SIZE, waveHeader } from '../../src/tape/writing/wave-header.js';
import { type OpenedPage, openPage, shows, useBench, write } from './browser.js';

const RATE = 44100;
const TEXT = '.name "HI"\n10 PRINT "HI"\n';
const IMAGE = buildImage(readListing(TEXT).listing, { ram: 1024 }).image!;
const PROGRAM = { name: codesOfText('HI'), image: IMAGE };

const folder = mkdtempSync(join(tmpdir(), 'listwright-page-'));
const microphone = join(folder, 'microphone.wav');
writeFileSync(microphone, recordProgram(PROGRAM, { lead: 1, tail: 4, speed: 1.2 }));
afterAll(() => rmSync(folder, { recursive: true }));

const bench = useBench(
  '--use-fake-device-for-media-stream',
  '--use-fake-ui-for-media-stream',
  `--use-file-for-fake-audio-capture=${microphone}`,
);
let opened: OpenedPage;
let page: Page;

beforeAll(async () => {
  opened = await openPage(bench().browser, bench().address, (fresh) =>
    fresh.addInitScript(() => {
      // All that is played goes into a context that renders as fast as it can, for the test to take.
      class Tapped extends OfflineAudioContext {
        constructor() {
          super(1, 44100 * 16, 44100);
          Object.assign(globalThis, { tapped: this });
        }
        override async resume() {}
        async close() {}
      }
      Object.assign(globalThis, { RealAudioContext: AudioContext, AudioContext: Tapped });
    }),
  );
  page = opened.page;
}, 60_000);

/** Longer than what is handed to the browser's sound ahead: in 16K the display is stored whole. */
const LONG_TEXT = '.name "LONG"\n.ram 16K\n10 PRINT "THE LOFT"\n';
const LONG = buildImage(readListing(LONG_TEXT).listing, { ram: 16384 }).image!;
let typedOn: OpenedPage;

// It plays while the other tests go on, and somebody types without a pause.
beforeAll(async () => {
  typedOn = await openPage(bench().browser, bench().address, (fresh) =>
    fresh.addInitScript(() => {
      // What is played comes past the page's own ear, in the thread of the sound, at its own pace.
      class Tapped extends AudioContext {
        private gain: GainNode | undefined;
        override createGain() {
          this.gain = super.createGain();
          return this.gain;
        }
        override async resume() {
          await this.audioWorklet.addModule('listening.js');
          const ear = new AudioWorkletNode(this, 'listening', { numberOfOutputs: 0 });
          const { port1, port2 } = new MessageChannel();
          const blocks: Float32Array[] = [];
          port1.onmessage = ({ data }) => blocks.push(data);
          ear.port.postMessage(port2, [port2]);
          this.gain!.connect(ear);
          Object.assign(globalThis, { blocks, rate: this.sampleRate });
          await super.resume();
        }
      }
      Object.assign(globalThis, { AudioContext: Tapped });
    }),
  );
  const { page: long } = typedOn;
  await write(long, LONG_TEXT);
  await shows(long, '#verdict', 'runs');
  await long.locator('#play').click();
  await long.locator('#caution-yes').click();
  await shows(long, '#time-left', /left/);
  await long.locator('.cm-content').click();
  await long.evaluate(() => {
    let keys = 0;
    const type = (): void => {
      keys++;
      document.execCommand('insertText', false, keys % 24 === 0 ? '\n20 LET A=1' : '+1');
    };
    Object.assign(globalThis, { typing: setInterval(type, 40) });
  });
}, 60_000);

/** Samples that a page has as `sound`, as the bytes of a WAV file. */
async function waveOf(from: Page, rate: number): Promise<Uint8Array> {
  const packed = await from.evaluate(() => {
    const { sound } = globalThis as unknown as { sound: Float32Array };
    const bytes = new Uint8Array(Int16Array.from(sound, (one) => Math.round(one * 0x7fff)).buffer);
    let text = '';
    // A function takes no more than so many arguments at once.
    for (let at = 0; at < bytes.length; at += 0x8000) {
      text += String.fromCharCode(...bytes.subarray(at, at + 0x8000));
    }
    return btoa(text);
  });
  const samples = new Int16Array(Uint8Array.from(Buffer.from(packed, 'base64')).buffer);
  const file = new Uint8Array(HEADER_SIZE + 2 * samples.length);
  file.set(waveHeader(rate, 16, samples.length));
  new Int16Array(file.buffer, HEADER_SIZE).set(samples);
  return file;
}

/** What was played into the context that renders at once. */
async function played(): Promise<Uint8Array> {
  await page.evaluate(async () => {
    const { tapped } = globalThis as unknown as { tapped: OfflineAudioContext };
    Object.assign(globalThis, { sound: (await tapped.startRendering()).getChannelData(0) });
  });
  return waveOf(page, RATE);
}

const give = (name: string, buffer: Uint8Array | string): Promise<void> =>
  page
    .locator('#file')
    .setInputFiles({ name, mimeType: 'application/octet-stream', buffer: Buffer.from(buffer) });

describe('sound out', () => {
  test('is cautioned against first, and holds the very image', async () => {
    await write(page, TEXT);
    await page.locator('#play').click();
    await shows(page, '#caution', 'never with headphones on');
    await page.locator('#caution-yes').click();
    await shows(page, '#time-left', /0:\d\d left/);
    // It is handed over whole: it lasts less than what is handed over ahead.
    await page.waitForTimeout(700);
    const { programs } = recoverPrograms(await played());
    expect(programs).toHaveLength(1);
    expect(programs[0].image).toEqual(IMAGE);
    expect(programs[0].doubts).toEqual([]);
    // The rendered context's clock stands at its end.
    await shows(page, '#time-left', 'played to its end');
  });

  test('is saved as a file, as the image is', async () => {
    const saved = async (button: string): Promise<[string, Uint8Array]> => {
      const [download] = await Promise.all([
        page.waitForEvent('download'),
        page.locator(button).click(),
      ]);
      return [download.suggestedFilename(), new Uint8Array(readFileSync(await download.path()))];
    };
    expect(await saved('#save-image')).toEqual(['hi.img', IMAGE]);
    const [name, wave] = await saved('#save-sound');
    expect(name).toBe('hi.wav');
    expect(recoverPrograms(wave).programs[0].image).toEqual(IMAGE);
  });

  test('of a listing with errors is refused in words', async () => {
    await write(page, '10 PRIN\n');
    await page.locator('#play').click();
    await shows(page, '#time-left', '1:4: no statement begins with PRIN');
    expect(await page.locator('#play').textContent()).toBe('Play');
  });
});

describe('sound in', () => {
  test.each([
    ['NotAllowedError', 'does not let the page listen. Allow it'],
    ['NotFoundError', 'none is plugged in'],
    ['', 'only to a page that comes by HTTPS'],
  ])('where the browser gives none (%s), words say why', async (name, words) => {
    await page.evaluate((fault) => {
      const refuse = () => Promise.reject(new DOMException('', fault));
      const mediaDevices = fault === '' ? undefined : { getUserMedia: refuse };
      Object.defineProperty(navigator, 'mediaDevices', { value: mediaDevices, configurable: true });
    }, name);
    await page.locator('#listen').click();
    await shows(page, '#socket-note', words);
    expect(await page.locator('#listen').textContent()).toBe('Listen');
    // What the browser itself has comes from its prototype.
    await page.evaluate(() => Reflect.deleteProperty(navigator, 'mediaDevices'));
  });

  test('by the microphone: the level is told, and the program is opened', async () => {
    await page.evaluate(() => {
      const scope = globalThis as unknown as Record<string, unknown>;
      scope.AudioContext = scope.RealAudioContext;
    });
    await page.locator('#draft-new').click();
    await page.locator('#listen').click();
    await shows(page, '#meter-words', 'good');
    // While it listens: the program is there some two seconds after its end. A busy machine drops
    // some of what the browser captures, as a worn tape does; then the tape comes round again.
    await shows(page, '#heard', `“HI”, ${IMAGE.length} bytes, no byte in doubt`);
    await shows(page, '.cm-content', '10 PRINT "HI"');
    expect(await page.locator('#listen').textContent()).toBe('Stop listening');
    await page.locator('#listen').click();
    await shows(page, '#listen', /^Listen$/);
  });

  test('as an MP3 file, whose length is shown as it is read', async () => {
    const program = { name: codesOfText('OLD'), image: IMAGE };
    const wave = recordProgram(program, { lead: 1, tail: 1, shape: 'rounded' });
    const encoder = new Mp3Encoder(1, RATE, 128);
    const samples = new Int16Array(wave.slice(HEADER_SIZE).buffer);
    const packed = Buffer.concat([
      Uint8Array.from(encoder.encodeBuffer(samples)),
      Uint8Array.from(encoder.flush()),
    ]);
    await page.evaluate(() => {
      const note = document.getElementById('socket-note')!;
      const said: string[] = [];
      Object.assign(globalThis, { said });
      const observer = new MutationObserver(() => said.push(note.textContent));
      observer.observe(note, { childList: true });
    });
    await give('old tape.mp3', Buffer.concat([packed, packed, packed]));
    const found = page.locator('#heard li').filter({ hasText: '“OLD”' });
    await found.nth(2).waitFor();
    for (const words of await found.allTextContents()) {
      expect(words).toContain(`“OLD”, ${IMAGE.length} bytes, no byte in doubt`);
    }
    // Three at once: none is opened before a person says which.
    await found.last().locator('button').first().click();
    await shows(page, '.cm-content', '.name "OLD"');
    const said = await page.evaluate(() => (globalThis as unknown as { said: string[] }).said);
    const parts = said.flatMap((words) => /^Working… (\d+) %$/.exec(words)?.[1] ?? []).map(Number);
    expect(parts.length).toBeGreaterThan(2);
    expect(parts).toEqual([...parts].sort((a, b) => a - b));
  });

  test('as a file that only the page itself can have decoded', async () => {
    await page.locator('#draft-new').click();
    await give('oak.ogg', readFileSync('tests/tape/samples/sounds/oggenc.ogg'));
    await shows(page, '.cm-content', '10 PRINT "LANTERN LOFT"');
    await shows(page, '#heard li', '“OAK”, 162 bytes, no byte in doubt');
  });

  test('that is no sound at all is refused', async () => {
    await give('junk.bin', Uint8Array.of(0, 1, 2, 3));
    await shows(page, '#socket-note', 'junk.bin is no listing');
  });
});

describe('files', () => {
  test('an image that is dropped is opened as its listing', async () => {
    await page.locator('#draft-new').click();
    const handle = await page.evaluateHandle((bytes) => {
      const files = new DataTransfer();
      files.items.add(new File([Uint8Array.from(bytes)], 'old.img'));
      return files;
    }, Array.from(IMAGE));
    await page.dispatchEvent('.cm-content', 'drop', { dataTransfer: handle });
    await shows(page, '.cm-content', '.name "OLD"');
  });

  test('that are several, and more while these are read, are opened one after the other', async () => {
    const listing = (words: string) => {
      return { name: `${words}.bas`, mimeType: '', buffer: Buffer.from(`10 REM ${words}\n`) };
    };
    await page
      .locator('#file')
      .setInputFiles([
        { name: 'junk.bin', mimeType: '', buffer: Buffer.of(0, 1, 2, 3) },
        listing('FIRST'),
        listing('SECOND'),
      ]);
    await page.locator('#file').setInputFiles([listing('THIRD')]);
    await shows(page, '.cm-content', 'REM THIRD');
    expect(await page.locator('#socket-note').textContent()).toBe('THIRD.bas is open as a draft.');
    const drafts = await page.locator('#draft option').allTextContents();
    expect(drafts.slice(0, 3).map((title) => title.slice(-5))).toEqual(['THIRD', 'ECOND', 'FIRST']);
  });

  test('what cannot be read as a file, such as a folder, is said to be that', async () => {
    const handle = await page.evaluateHandle(() => {
      const folder = new File([''], 'tapes');
      folder.slice = () => {
        throw new DOMException('', 'NotFoundError');
      };
      return Object.assign(new Event('drop', { bubbles: true, cancelable: true }), {
        dataTransfer: { files: [folder] },
      });
    });
    await page.evaluate((event) => document.body.dispatchEvent(event), handle);
    await shows(page, '#socket-note', 'tapes cannot be read: it is a folder');
  });

  test('a scanned page is read again, its questions answered by clicks', async () => {
    await give('page.txt', readFileSync('samples/pages/lamp-lottery.txt', 'utf8'));
    await shows(page, '#scan-help', /\d+ changes were made/);
    const questions = page.locator('#scan-questions li');
    // The last answer puts a 1 in one more line: the first question, which is of those, stays answered.
    for (const [left, answer] of [
      [3, '1 everywhere'],
      [2, 'each as printed'],
      [1, 'IF G<1 OR G>6 THEN GOTO 80'],
    ] as const) {
      await page.waitForFunction(
        (count) => document.querySelectorAll('#scan-questions li').length === count,
        left,
      );
      await questions.first().getByRole('button', { name: answer, exact: true }).click();
    }
    await shows(page, '#scan-help', 'Nothing is left to ask');
    await page.locator('#scan-open').click();
    await shows(page, '#verdict', /run|load/);
  });
});

describe('the keyboard test', () => {
  test('shows each key of a line, with the cursor that it needs', async () => {
    await write(page, '10 PRINT "A"\n');
    await shows(page, '#verdict', 'runs');
    await page.locator('#typing-start').click();
    await shows(page, '#typing-key', '1: gives 1 (cursor K)');
    await page.locator('#typing-next').click();
    await page.locator('#typing-next').click();
    await shows(page, '#typing-key', 'P: gives PRINT (cursor K)');
    await page.locator('#typing-next').click();
    await shows(page, '#typing-key', 'SHIFT and P: gives " (cursor L)');
    await shows(page, '#typing-place', 'Line 10, key 4 of 7');
    const lit = await page
      .locator('.typing-board .lit')
      .evaluateAll((keys) => keys.map((key) => key.getAttribute('data-key')));
    expect(lit.sort()).toEqual(['P', 'SHIFT']);
    await page.locator('#typing-back').click();
    await shows(page, '#typing-key', 'P: gives PRINT');
  });

  test('nothing went wrong, and nothing was asked of anybody else', () => {
    const { address } = bench();
    const foreign = opened.asked.filter(
      (url) => !url.startsWith(address) && !url.startsWith('blob:'),
    );
    expect(foreign).toEqual([]);
    expect(opened.faults).toEqual([]);
  });
});

describe('sound out while somebody types', () => {
  test('does not break off: what comes out is the very image, in its very time', async () => {
    const { page: long, faults } = typedOn;
    await long.locator('#time-left').filter({ hasText: 'to its end' }).waitFor({ timeout: 45_000 });
    const rate = await long.evaluate(() => {
      const scope = globalThis as unknown as Record<'typing' | 'rate', number> & {
        blocks: Float32Array[];
      };
      clearInterval(scope.typing);
      const sound = new Float32Array(scope.blocks.reduce((sum, { length }) => sum + length, 0));
      let at = 0;
      for (const block of scope.blocks) {
        sound.set(block, at);
        at += block.length;
      }
      Object.assign(globalThis, { sound });
      return scope.rate;
    });
    // It was typed on the whole time.
    expect((await long.locator('.cm-content').textContent())!.length).toBeGreaterThan(500);
    const { programs } = recoverPrograms(await waveOf(long, rate), { partial: true });
    expect(programs).toHaveLength(1);
    const [{ image, doubts, start, end }] = programs;
    expect(image).toEqual(LONG);
    expect(doubts).toEqual([]);
    const seconds = secondsOnTape({ name: codesOfText('LONG'), image: LONG });
    expect(Math.abs(end - start - seconds)).toBeLessThan(0.005);
    expect(faults).toEqual([]);
  });
});
