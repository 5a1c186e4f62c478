/**
 * `completion SHELL`: the script with which a shell completes commands, options and files. The
 * scripts are our own: those that packages write start the program at every Tab, and leave out the
 * names of files, or run what stands in the words that are typed.
 */
import type { Command, Option } from 'commander';
import { USUAL_RAM_SIZES } from '../machine/ram-size.js';
import { printListing } from './common/io.js';
import { bashScript } from './completion/bash.js';
import { fishScript } from './completion/fish.js';
import type { CompletedCommand, Files, Values } from './completion/words.js';
import { zshScript } from './completion/zsh.js';

const SCRIPTS: Record<string, (commands: readonly CompletedCommand[]) => string> = {
  bash: bashScript,
  zsh: zshScript,
  fish: fishScript,
};

const HOW = `
To have it at every start of the shell:
  bash   echo 'source <(listwright completion bash)' >> ~/.bashrc
  zsh    echo 'source <(listwright completion zsh)' >> ~/.zshrc, after compinit
  fish   listwright completion fish > ~/.config/fish/completions/listwright.fish`;

/** The commands that are registered already are those that the script completes. */
export function register(program: Command): void {
  program
    .command('completion')
    .description('write the script with which a shell completes what you type')
    .addArgument(program.createArgument('<shell>', 'which shell').choices(Object.keys(SCRIPTS)))
    .addHelpText('after', HOW)
    .action((shell: string) => printListing(SCRIPTS[shell](commandsOf(program))));
}

/** What shells need to know, taken from the commands themselves: nothing is stated twice. */
function commandsOf(program: Command): CompletedCommand[] {
  const help = program.createHelp();
  const commands = help.visibleCommands(program);
  const names = commands.map((command) => command.name());
  return commands.map((command) => {
    return {
      name: command.name(),
      description: command.description(),
      argument: command.name() === 'help' ? names : argumentOf(command),
      options: help.visibleOptions(command).map((option) => ({
        long: option.long!,
        short: option.short,
        description: option.description,
        values: valuesOf(option),
      })),
    };
  });
}

function argumentOf({ registeredArguments: [argument] }: Command): Values {
  if (argument === undefined) return 'nothing';
  return argument.argChoices ?? filesOf(`${argument.name()} ${argument.description}`);
}

const SOUNDS = ['wav', 'aif', 'aiff', 'mp3', 'm4a', 'flac', 'ogg', 'oga', 'opus'];
const ENDINGS: readonly [said: RegExp, endings: readonly string[]][] = [
  [/\blistings?\b/, ['bas']],
  [/\bimages?\b/, ['img']],
  [/\brecordings?\b|\bsound\b/, SOUNDS],
  [/\bpicture\b/, ['png', 'jpg', 'jpeg', 'gif', 'webp', 'svg', 'txt', 'json']],
  [/\btext\b/, ['txt', 'bas']],
];

/** The files that a place takes, by the words that its help says. */
const filesOf = (said: string): Files => ({
  endings: ENDINGS.flatMap(([word, endings]) => (word.test(said) ? endings : [])),
});

function valuesOf(option: Option): Values | undefined {
  if (!option.required) return undefined;
  if (option.long === '--ram') return USUAL_RAM_SIZES;
  if (option.argChoices !== undefined) return option.argChoices;
  // A file that is written may have any name.
  if (/<file>/.test(option.flags)) return { endings: [] };
  return /<listing>/.test(option.flags) ? filesOf('listing') : 'nothing';
}
