/** The script for fish: one `complete` for each command and each option. */
import type { CompletedCommand, CompletedOption, Values } from './words.js';

export function fishScript(commands: readonly CompletedCommand[]): string {
  const rows = commands.flatMap((command) => [
    `complete -c listwright -n __fish_use_subcommand -f -a ${command.name} -d ${quoted(command.description)}`,
    ...(command.argument === 'files' ? [] : [argumentRow(command)]),
    ...command.options.map((option) => optionRow(command.name, option)),
  ]);
  return `# Completion of listwright for fish: listwright completion fish | source
complete -c listwright -e
${rows.join('\n')}
`;
}

const within = (name: string): string =>
  `complete -c listwright -n ${quoted(`__fish_seen_subcommand_from ${name}`)}`;

const argumentRow = ({ name, argument }: CompletedCommand): string =>
  `${within(name)} -f${wordsFor(argument)}`;

function optionRow(name: string, { long, short, description, values }: CompletedOption): string {
  const flags = `-l ${long.slice(2)}${short === undefined ? '' : ` -s ${short.slice(1)}`}`;
  const takes =
    values === undefined ? '' : values === 'files' ? ' -r -F' : ` -x${wordsFor(values)}`;
  return `${within(name)} ${flags}${takes} -d ${quoted(description)}`;
}

const wordsFor = (values: Values): string =>
  typeof values === 'string' ? '' : ` -a ${quoted(values.join(' '))}`;

/** A text within single quotes, as fish takes it. */
function quoted(text: string): string {
  return `'${text.replaceAll('\\', '\\\\').replaceAll("'", "\\'")}'`;
}
