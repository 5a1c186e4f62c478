/** The script for zsh, by its own `_arguments` and `_describe`. */
import {
  type CompletedCommand,
  type CompletedOption,
  isFiles,
  quoted,
  type Values,
} from './words.js';

export function zshScript(commands: readonly CompletedCommand[]): string {
  const described = commands.map(({ name, description }) =>
    quoted(`${name}:${description.replaceAll(':', '\\:')}`),
  );
  return `#compdef listwright
# Completion of listwright for zsh: source <(listwright completion zsh)
_listwright() {
  local -a commands
  commands=(
    ${described.join('\n    ')}
  )
  if (( CURRENT == 2 )); then
    _describe command commands
    return
  fi
  local command=$words[2]
  shift words
  (( CURRENT-- ))
  case $command in
${commands.map(commandCase).join('\n')}
  esac
}
if [[ $funcstack[1] == _listwright ]]; then
  _listwright "$@"
else
  compdef _listwright listwright
fi
`;
}

function commandCase({ name, argument, options }: CompletedCommand): string {
  const places = argument === 'nothing' ? [] : [quoted(`*: :${actionFor(argument)}`)];
  const parts = [...options.map(optionPart), ...places];
  return `    ${name})\n      _arguments -s \\\n        ${parts.join(' \\\n        ')} ;;`;
}

function optionPart({ long, short, description, values }: CompletedOption): string {
  const said = description.replace(/[[\]:\\]/g, '\\$&');
  const rest = quoted(`[${said}]${values === undefined ? '' : `: :${actionFor(values)}`}`);
  // Given in one form, the other is not offered again.
  return short === undefined ? `${long}${rest}` : `'(${short} ${long})'{${short},${long}}${rest}`;
}

function actionFor(values: Values): string {
  if (isFiles(values)) {
    const { endings } = values;
    // Brackets at the end of a pattern are what kind of file it is: `(bas)` would be three of these.
    return endings.length === 0 ? '_files' : `_files -g "*.(#i)(${endings.join('|')})(-.)"`;
  }
  return values === 'nothing' ? ' ' : `(${values.join(' ')})`;
}
