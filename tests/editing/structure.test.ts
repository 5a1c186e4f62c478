/** The shape of a listing: its parts, what folds, how a selection grows, the words it is made of. */
import { describe, expect, it } from 'vitest';
import type { SelectionRange } from 'vscode-languageserver-types';
import { folding, selectionRanges } from '../../src/editing/questions/folding.js';
import { outline } from '../../src/editing/questions/outline.js';
import { TOKEN_TYPES, tokens } from '../../src/editing/questions/tokens.js';
import { Snapshot } from '../../src/editing/snapshot.js';
import { at, textsOf } from './at.js';

const LISTING = `' The lamps
' of the loft
10 DIM A(9)
20 GOSUB 100
30 GOSUB 200
40 STOP
90 REM FIRST PART
100 FOR I=1 TO 3
110 NEXT I
120 RETURN
200 REM SECOND PART
210 RETURN
`;

describe('outline', () => {
  it('names subroutines by the REM at or before them, the rest by its comment', () => {
    const parts = outline(new Snapshot(LISTING));
    expect(parts.map(({ name, detail }) => `${name} ${detail}`)).toEqual([
      'The lamps 10–90',
      'FIRST PART 100–120',
      'SECOND PART 200–210',
    ]);
    expect(parts[0].children?.map(({ name }) => name)).toEqual(['A(9)']);
  });

  it('has no part for an empty listing', () => {
    expect(outline(new Snapshot(''))).toEqual([]);
  });
});

it('folds loops, subroutines, comments and saved displays', () => {
  const snapshot = new Snapshot(`${LISTING}.display\nA\nB\n.end\n`);
  const rows = folding(snapshot).map(({ startLine, endLine }) => `${startLine + 1}–${endLine + 1}`);
  expect(rows.sort()).toEqual(['1–2', '11–12', '13–16', '8–10', '8–9'].sort());
});

it('grows a selection from the word out', () => {
  const [snapshot, offset] = at('10 LET A=(B+‸C)*2\n20 CLS');
  const grown: string[] = [];
  const places = [snapshot.positions.positionAt(offset)];
  let range: SelectionRange | undefined = selectionRanges(snapshot, places)[0];
  for (; range !== undefined; range = range.parent) {
    grown.push(...textsOf(snapshot, [range.range]));
  }
  expect(grown).toEqual([
    '1:C',
    '1:B+C',
    '1:(B+C)',
    '1:(B+C)*2',
    '1:LET A=(B+C)*2',
    '1:10 LET A=(B+C)*2',
    '1:10 LET A=(B+C)*2\n20 CLS',
  ]);
});

describe('semantic tokens', () => {
  /** The tokens with their texts, undone from the protocol's relative numbers. */
  function painted(text: string): string[] {
    const { data } = tokens(new Snapshot(text));
    const lines = text.split('\n');
    const found: string[] = [];
    let [line, character] = [0, 0];
    for (let at = 0; at < data.length; at += 5) {
      character = data[at] === 0 ? character + data[at + 1] : data[at + 1];
      line += data[at];
      found.push(
        `${TOKEN_TYPES[data[at + 3]]} ${lines[line].slice(character, character + data[at + 2])}`,
      );
    }
    return found;
  }

  it('paints every word', () => {
    expect(
      painted('\' hi\n.ram 1K\n10 GOTO 10\n20 PRINT SIN A;"B"+C$\n30 IF PI AND 3 THEN REM NOTE'),
    ).toEqual([
      "comment ' hi",
      'macro .ram',
      'label 10',
      'keyword GOTO',
      'label 10',
      'label 20',
      'keyword PRINT',
      'function SIN',
      'variable A',
      'string "B"',
      'operator +',
      'variable C$',
      'label 30',
      'keyword IF',
      'function PI',
      'operator AND',
      'number 3',
      'keyword THEN',
      'keyword REM',
      'comment  NOTE',
    ]);
  });

  it('parts what goes on over several lines', () => {
    expect(painted('10 REM [01 02\n03 04]\n20 CLS')).toEqual([
      'label 10',
      'keyword REM',
      'comment  [01 02',
      'comment 03 04]',
      'label 20',
      'keyword CLS',
    ]);
  });
});
