/** The script for fish: one `complete` for each command and each option. */
import { type CompletedCommand, type CompletedOption, isFiles, type Values } from './words.js';

export function fishScript(commands: readonly CompletedCommand[]): string {
  const rows = commands.flatMap((command) => [
    `complete -c listwright -n __fish_use_subcommand -f -a ${command.name} -d ${quoted(command.description)}`,
    argumentRow(command),
    ...command.options.map((option) => optionRow(command.name, option)),
  ]);
  return `# Completion of listwright for fish: listwright completion fish | source
function __listwright_files
    set -l all (__fish_complete_path (commandline -ct))
    set -l fitting (string match -rei '\\.(?:'$argv[1]')(?:\\t|$)' $all)
    # Where no file ends so, all are offered.
    if set -q fitting[1]
        set all (string match -re '/(?:\\t|$)' $all) $fitting
    end
    printf '%s\\n' $all
end
complete -c listwright -e
${rows.join('\n')}
`;
}

const within = (name: string): string =>
  `complete -c listwright -n ${quoted(`__fish_seen_subcommand_from ${name}`)}`;

const argumentRow = ({ name, argument }: CompletedCommand): string =>
  `${within(name)}${wordsFor(argument)}`;

function optionRow(name: string, { long, short, description, values }: CompletedOption): string {
  const flags = `-l ${long.slice(2)}${short === undefined ? '' : ` -s ${short.slice(1)}`}`;
  const takes = values === undefined ? '' : ` -r${wordsFor(values)}`;
  return `${within(name)} ${flags}${takes} -d ${quoted(description)}`;
}

function wordsFor(values: Values): string {
  if (values === 'nothing') return ' -f';
  if (!isFiles(values)) return ` -f -a ${quoted(values.join(' '))}`;
  const { endings } = values;
  return endings.length === 0
    ? ' -F'
    : ` -f -a ${quoted(`(__listwright_files '${endings.join('|')}')`)}`;
}

/** A text within single quotes, as fish takes it. */
function quoted(text: string): string {
  return `'${text.replaceAll('\\', '\\\\').replaceAll("'", "\\'")}'`;
}
