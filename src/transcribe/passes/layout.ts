/** Notes what the page did to the lines' layout: wrapped rows, spaces at their edges, numbers. */
import { CERTAINTY } from '../certainties.js';
import type { Pass, Work, WorkLine } from '../work.js';

export const noteLayout: Pass = (work) => {
  for (const line of work.lines) {
    noteRows(work, line);
    noteNumber(work, line);
  }
};

function noteRows(work: Work, line: WorkLine): void {
  const { rows, padded, start, end } = line.page;
  const from = work.source.slice(start, end);
  const to = `${padded} spaces where two rows meet`;
  if (rows > 1)
    work.add(line, {
      kind: 'joined',
      ...{ from, start, end },
      to: 'one line',
      certainty: CERTAINTY.joinedRows,
      why: `the page wrapped it over ${rows} rows`,
    });
  if (padded > 1)
    work.add(line, {
      kind: 'text',
      ...{ from, start, end, to },
      candidates: [to, 'one space there'],
      certainty: CERTAINTY.spacesAtEdge,
      why: 'a row ends short of the edge of the page, inside a string or REM',
    });
}

function noteNumber(work: Work, line: WorkLine): void {
  const { printedNumber, number, start } = line.page;
  if (printedNumber === String(number) || /^0*\d+$/.test(printedNumber)) return;
  work.add(line, {
    kind: 'number',
    from: printedNumber,
    start,
    end: start + printedNumber.length,
    to: String(number),
    certainty: CERTAINTY.lineNumber,
    why: 'a line number, in the order of the others',
  });
}
