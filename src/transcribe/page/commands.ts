/** The words with which statements begin, here and on other machines. */
import { shapeOf } from '../readings/look-alike.js';

export const COMMANDS: readonly string[] =
  'LET PRINT LPRINT IF GOTO GO GOSUB FOR NEXT REM RETURN INPUT DIM STOP CLS POKE PLOT UNPLOT PAUSE RAND RUN LIST LLIST SCROLL CLEAR COPY SLOW FAST NEW SAVE LOAD CONT READ DATA RESTORE END ON DEF LOCATE HOME RANDOMIZE RANDOMISE GET'.split(
    ' ',
  );

const LONGEST = Math.max(...COMMANDS.map(({ length }) => length));

/** Their shapes, at the front of a statement. */
const BEGINNINGS = new RegExp(`^(?:${COMMANDS.map(shapeOf).join('|')}|\\?|'|!)`);

/** Does a command, or what may be a misprinted one, stand at the front of this text? */
export function beginsWithCommand(text: string): boolean {
  return BEGINNINGS.test(shapeOf(text.slice(0, LONGEST)));
}

/** The same, or an assignment without LET? */
export function beginsStatement(text: string): boolean {
  return beginsWithCommand(text) || /^[A-Z][A-Z0-9]*\$?(?:\([^)]*\))?\s*=/i.test(text);
}
