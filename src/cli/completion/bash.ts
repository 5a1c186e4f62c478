/** The script for bash, from 3.2 on; it needs nothing else. */
import {
  type CompletedCommand,
  type CompletedOption,
  flagsOf,
  isFiles,
  quoted,
  type Values,
} from './words.js';

export function bashScript(commands: readonly CompletedCommand[]): string {
  return `# Completion of listwright for bash: source <(listwright completion bash)
_listwright() {
  local word=\${COMP_WORDS[COMP_CWORD]} before=\${COMP_WORDS[COMP_CWORD-1]}
  local at file command='' words='' files=yes endings=''
  # In --format=json the sign is a word of its own.
  if [[ $word == = ]]; then word=''
  elif [[ $before == = ]]; then before=\${COMP_WORDS[COMP_CWORD-2]}
  fi
  for ((at = 1; at < COMP_CWORD; at++)); do
    if [[ \${COMP_WORDS[at]} != -* ]]; then command=\${COMP_WORDS[at]}; break; fi
  done
  case $command in
    '') files=no words=${quoted(commands.map(({ name }) => name).join(' '))} ;;
${commands.map(commandCase).join('\n')}
  esac
  COMPREPLY=()
  if [[ -n $words ]]; then COMPREPLY=($(compgen -W "$words" -- "$word")); fi
  if [[ $files == no ]]; then compopt +o default 2>/dev/null
  elif [[ -n $endings ]] && compopt -o filenames 2>/dev/null; then
    while IFS= read -r file; do
      if [[ " $endings " == *" \${file##*.} "* ]]; then files=some
      elif [[ ! -d \${file/#\\~/$HOME} ]]; then continue
      fi
      COMPREPLY+=("$file")
    done < <(compgen -f -- "$word")
    # Where no file ends so, all are offered.
    if [[ $files == yes ]]; then COMPREPLY=(); fi
  fi
}
complete -o default -F _listwright listwright
`;
}

function commandCase({ name, argument, options }: CompletedCommand): string {
  const flags = options.map(({ long }) => long).join(' ');
  return `    ${name})
      case $before in
${options
  .filter(({ values }) => values !== undefined)
  .map(optionCase)
  .join('\n')}
        *)
          if [[ $word == -* ]]; then files=no words=${quoted(flags)}
          else ${wordsFor(argument)}
          fi ;;
      esac ;;`;
}

const optionCase = (option: CompletedOption): string =>
  `        ${flagsOf(option).join('|')}) ${wordsFor(option.values!)} ;;`;

function wordsFor(values: Values): string {
  if (isFiles(values)) {
    const { endings } = values;
    return `endings=${quoted([...endings, ...endings.map((one) => one.toUpperCase())].join(' '))}`;
  }
  return `files=no words=${quoted(values === 'nothing' ? '' : values.join(' '))}`;
}
