/** The system variables. Source: the manual, chapter 28, from memory. */

export interface SystemVariable {
  readonly name: SystemVariableName;
  readonly address: number;
  /** 1 or 2 bytes (low byte first), or an area of more. */
  readonly size: number;
}

const TABLE = [
  ['ERR_NR', 16384, 1],
  ['FLAGS', 16385, 1],
  ['ERR_SP', 16386, 2],
  ['RAMTOP', 16388, 2],
  ['MODE', 16390, 1],
  ['PPC', 16391, 2],
  ['VERSN', 16393, 1],
  ['E_PPC', 16394, 2],
  ['D_FILE', 16396, 2],
  ['DF_CC', 16398, 2],
  ['VARS', 16400, 2],
  ['DEST', 16402, 2],
  ['E_LINE', 16404, 2],
  ['CH_ADD', 16406, 2],
  ['X_PTR', 16408, 2],
  ['STKBOT', 16410, 2],
  ['STKEND', 16412, 2],
  ['BERG', 16414, 1],
  ['MEM', 16415, 2],
  ['UNUSED1', 16417, 1],
  ['DF_SZ', 16418, 1],
  ['S_TOP', 16419, 2],
  ['LAST_K', 16421, 2],
  ['DEBOUNCE', 16423, 1],
  ['MARGIN', 16424, 1],
  ['NXTLIN', 16425, 2],
  ['OLDPPC', 16427, 2],
  ['FLAGX', 16429, 1],
  ['STRLEN', 16430, 2],
  ['T_ADDR', 16432, 2],
  ['SEED', 16434, 2],
  ['FRAMES', 16436, 2],
  ['COORDS', 16438, 2],
  ['PR_CC', 16440, 1],
  ['S_POSN', 16441, 2],
  ['CDFLAG', 16443, 1],
  ['PRBUFF', 16444, 33],
  ['MEMBOT', 16477, 30],
  ['UNUSED2', 16507, 2],
] as const;

export type SystemVariableName = (typeof TABLE)[number][0];

export const SYSTEM_VARIABLES: readonly SystemVariable[] = TABLE.map(([name, address, size]) => ({
  name,
  address,
  size,
}));

const BY_NAME = new Map<string, SystemVariable>(
  SYSTEM_VARIABLES.map((variable) => [variable.name, variable]),
);

/** The system variable of this name, in capitals, or undefined. */
export function systemVariable(name: string): SystemVariable | undefined {
  return BY_NAME.get(name);
}

/** Its address. Throws RangeError for a name that the manual does not have. */
export function addressOf(name: string): number {
  const variable = BY_NAME.get(name);
  if (variable === undefined) throw new RangeError(`no system variable is called ${name}`);
  return variable.address;
}

/** The margin byte: blank lines above and below the picture, by frames a second. */
export const MARGIN_OF_FRAMES: ReadonlyMap<number, number> = new Map([
  [50, 55],
  [60, 31],
]);
