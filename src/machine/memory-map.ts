/**
 * Where things stand in the machine's memory.
 * Source: the manual, chapters 27 and 28, and the published ROM disassembly for the room that the
 * ROM keeps, from memory.
 */

/** First address of the RAM, and of the system variables. */
export const RAM_START = 16384;
/** First address that SAVE sends: the system variable VERSN. */
export const IMAGE_START = 16393;
/** First address of the program. */
export const PROGRAM_START = 16509;
/** Bytes of system variables, from RAM_START. */
export const SYSTEM_VARIABLES_SIZE = PROGRAM_START - RAM_START;
/**
 * The areas of the RAM from the bottom up, by the names that budgets, ledgers and charts give them;
 * from the margin on they hang from its top.
 */
export type AreaName =
  | 'system variables'
  | 'program'
  | 'display'
  | 'variables'
  | 'end byte'
  | 'edit line'
  | 'workspace'
  | 'calculator stack'
  | 'kept free by the ROM'
  | 'machine stack'
  | 'GOSUB stack';
/** Rows and columns of the display. */
export const DISPLAY_ROWS = 24;
export const DISPLAY_COLUMNS = 32;
/** Blocks across and up that PLOT and UNPLOT take, counted from 0. */
export const PLOT_COLUMNS = 2 * DISPLAY_COLUMNS;
export const PLOT_ROWS = 44;
/** A clear display below 3¼K: NEWLINEs alone. */
export const COLLAPSED_DISPLAY_SIZE = DISPLAY_ROWS + 1;
/** A display at or above 3¼K, clear or not. */
export const FULL_DISPLAY_SIZE = DISPLAY_ROWS * (DISPLAY_COLUMNS + 1) + 1;
/** With at least this much RAM a display is full: 3¼K. */
export const FULL_DISPLAY_RAM = 3328;
/** Ends the variables. */
export const VARIABLES_END = 128;
/** Bytes that the ROM keeps free whenever an area grows. */
export const ROOM_MARGIN = 36;
/** What is never had: the margin, and one more, because the ROM wants the sum below its stack. */
export const KEPT_FREE = ROOM_MARGIN + 1;
/** The line being typed while nothing is: the cursor and a NEWLINE; while a program runs: RUN and one. */
export const EDIT_LINE_SIZE = 2;
/** Bytes of the report that is shown once the machine has loaded or stopped: code, stroke, line. */
export const REPORT_SIZE = 6;
/** Bytes that a GOSUB holds on the machine stack until its RETURN. */
export const GOSUB_SIZE = 2;
/**
 * The least and the most that the machine stack itself needs while printing. The manual, chapter 23,
 * has a case on 1K that holds it between them: after `DIM A(150)` the automatic listing has room for
 * either of the lines `10 FOR N=1 TO 15` and `20 PRINT N`, and not for both.
 */
export const MACHINE_STACK_LOW = 18;
export const MACHINE_STACK_HIGH = 29;
/** GOTO, GOSUB and RUN take line numbers below this; a higher one is report B (GOTO 0E81). */
export const LINES_END = 61440;
/** Lowest and highest line number that can be typed. */
export const LOWEST_LINE = 1;
export const HIGHEST_LINE = 9999;

/** Does a machine with this much RAM keep every row of the display at full length? */
export function hasFullDisplay(ramBytes: number): boolean {
  return ramBytes >= FULL_DISPLAY_RAM;
}

/** Size in bytes of a clear display with this much RAM. */
export function clearDisplaySize(ramBytes: number): number {
  return hasFullDisplay(ramBytes) ? FULL_DISPLAY_SIZE : COLLAPSED_DISPLAY_SIZE;
}

/** The highest address that a pointer holds. */
export const HIGHEST_ADDRESS = 0xffff;
