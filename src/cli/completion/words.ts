/** What is completed, in plain data: each shell's script is made of it. */

/** What stands in a place: one of some words, the name of a file, or what no shell can know. */
export type Values = readonly string[] | Files | 'nothing';

/**
 * Files whose names end so are offered alone where there are any, else all that there are: what a
 * file is, is told by what is in it. Without endings all are offered.
 */
export interface Files {
  readonly endings: readonly string[];
}

export const isFiles = (values: Values): values is Files =>
  typeof values === 'object' && 'endings' in values;

export interface CompletedOption {
  /** `--format` */
  readonly long: string;
  /** `-o` */
  readonly short?: string;
  readonly description: string;
  /** What follows it; undefined where nothing does. */
  readonly values?: Values;
}

export interface CompletedCommand {
  readonly name: string;
  readonly description: string;
  readonly argument: Values;
  readonly options: readonly CompletedOption[];
}

/** A text within single quotes, as bash and zsh take it. */
export function quoted(text: string): string {
  return `'${text.replaceAll("'", "'\\''")}'`;
}

export const flagsOf = ({ long, short }: CompletedOption): string[] =>
  short === undefined ? [long] : [short, long];
