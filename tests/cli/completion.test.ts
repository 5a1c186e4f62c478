/** The scripts as the shells themselves take them; where a shell is not installed, not at all. */
import { spawnSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { runCli, scratchFolder } from '../support/run-cli.js';

const folder = scratchFolder();
// Of a kind each, and one of none that any command takes.
for (const name of ['lamp.bas', 'lane la.WAV', 'lace.png', 'oak.scan']) {
  writeFileSync(join(folder, name), '');
}

const scripts = new Map<string, string>();
const scriptFor = (shell: string): string => {
  const made = scripts.get(shell) ?? writeScript(shell);
  scripts.set(shell, made);
  return made;
};
const writeScript = (shell: string): string => {
  const { status, stdout, stderr } = runCli(['completion', shell]);
  expect([status, stderr]).toEqual([0, '']);
  const path = join(folder, `completion.${shell}`);
  writeFileSync(path, stdout);
  return path;
};
const has = (shell: string): boolean => spawnSync(shell, ['-c', 'exit 0']).status === 0;

function words(shell: string, args: readonly string[]): string[] {
  const { status, stdout, stderr } = spawnSync(shell, args, { cwd: folder, encoding: 'utf8' });
  expect([status, stderr]).toEqual([0, '']);
  return stdout.split('\n').filter(Boolean).sort();
}

const COMMANDS = ['compare', 'completion', 'detokenise', 'fit', 'format', 'keys', 'lint'];

describe.skipIf(!has('bash'))('bash', () => {
  /** What is offered for the last of these words. */
  function offered(...typed: string[]): string[] {
    const script = [
      `source ${scriptFor('bash')}`,
      `COMP_WORDS=(listwright ${typed.map((word) => `'${word}'`).join(' ')})`,
      `COMP_CWORD=${typed.length}`,
      // Without a line that is being typed there is no compopt: it says what it is told.
      'compopt() { if [[ $1 == +o ]]; then echo "no files"; fi; }',
      '_listwright',
      'for word in "$' + '{COMPREPLY[@]}"; do echo "$word"; done',
    ];
    return words('bash', ['--norc', '-c', script.join('\n')]);
  }
  it('completes commands', () => {
    expect(offered('')).toEqual(expect.arrayContaining([...COMMANDS, 'no files']));
    expect(offered('re')).toEqual(['no files', 'record', 'recover', 'rehearse', 'renumber']);
    expect(offered('help', 'tra')).toEqual(['no files', 'transcribe']);
  });
  it('completes options, once a command is there', () => {
    expect(offered('lint', '--until')).toEqual(['--until-fits', 'no files']);
    expect(offered('lint', 'lamp.bas', '--dry')).toEqual(['--dry-run', 'no files']);
  });
  it('completes the values of an option, behind a space or a sign', () => {
    expect(offered('lint', '--format', '')).toEqual(['json', 'no files', 'sarif', 'text']);
    expect(offered('lint', '--format', '=', 's')).toEqual(['no files', 'sarif']);
    expect(offered('lint', '--format', '=')).toEqual(['json', 'no files', 'sarif', 'text']);
    expect(offered('fit', '--ram', '1')).toEqual(['16K', '1K', 'no files']);
    expect(offered('completion', 'f')).toEqual(['fish', 'no files']);
  });
  it('leaves files to the shell, and offers none for what is a number', () => {
    expect(offered('tokenise', 'o')).toEqual([]);
    expect(offered('tokenise', '-o', '')).toEqual([]);
    expect(offered('record', '--rate', '')).toEqual(['no files']);
  });
  it('completes files of the kind that a command takes', () => {
    expect(offered('tokenise', 'la')).toEqual(['lamp.bas']);
    expect(offered('fit', 'la')).toEqual(['lamp.bas', 'lane la.WAV']);
    expect(offered('recover', '')).toEqual(['lane la.WAV']);
    expect(offered('draw', '--into', '')).toEqual(['lamp.bas']);
  });
  it('runs nothing of what is typed', () => {
    expect(offered('tokenise', '$(echo run >&2)')).toEqual([]);
  });
});

describe.skipIf(!has('fish'))('fish', () => {
  const offered = (line: string): string[] => {
    const script = `source ${scriptFor('fish')}; complete -C ${JSON.stringify(line)}`;
    return words('fish', ['--no-config', '-c', script]).map((word) => word.split('\t')[0]);
  };
  it('completes commands, options, values and files', () => {
    expect(offered('listwright ')).toEqual(expect.arrayContaining(COMMANDS));
    expect(offered('listwright re')).toEqual(['record', 'recover', 'rehearse', 'renumber']);
    expect(offered('listwright lint --until')).toEqual(['--until-fits']);
    expect(offered('listwright lint --format ')).toEqual(['json', 'sarif', 'text']);
    expect(offered('listwright lint --format=s')).toEqual(['--format=sarif']);
    expect(offered('listwright tokenise la')).toEqual(['lamp.bas']);
    expect(offered('listwright fit la')).toEqual(['lamp.bas', 'lane la.WAV']);
    expect(offered('listwright draw --into l')).toEqual(['lamp.bas']);
    expect(offered('listwright tokenise o')).toEqual(['oak.scan']);
    expect(offered('listwright tokenise -o la')).toEqual(['lace.png', 'lamp.bas', 'lane la.WAV']);
    expect(offered('listwright record --rate la')).toEqual([]);
    expect(offered('listwright completion ')).toEqual(['bash', 'fish', 'zsh']);
  });
});

describe.skipIf(!has('zsh'))('zsh', () => {
  /**
   * What is offered for each line on a terminal of its own, as zsh's own tests ask, up to a text that
   * ends the list: keys that are typed before it is shown would keep it from being shown.
   */
  function offered(lines: readonly (readonly [line: string, last: string])[]): string[] {
    const asked = lines.map(
      ([line, last]) => `
      zpty -w -n shell ${JSON.stringify(line)}$'\\t'
      zpty -r -m shell got '*${last}*'
      print -r -- $got; print -r -- '<next>'
      zpty -w -n shell $'\\025'`,
    );
    const script = `
      zmodload zsh/zpty
      zpty shell zsh -f -i
      put() { zpty -w shell "$1"; }
      # All of the system's completions take seconds to look through.
      put 'PS1=; fpath=(\${(M)fpath:#*Completion(|/Base|/Unix)})'
      put "autoload -Uz compinit; compinit -u -D; zstyle ':completion:*' list-prompt ''"
      put "cd ${folder}; source ${scriptFor('zsh')}; bindkey '^I' list-choices; LISTMAX=0; echo be''gin"
      zpty -r -m shell got '*begin*'
      ${asked.join('')}`;
    const { stdout, stderr } = spawnSync('zsh', ['-f', '-c', script], {
      encoding: 'utf8',
      timeout: 50_000,
      env: { ...process.env, TERM: 'dumb' },
    });
    expect(stderr).toBe('');
    return stdout.split('<next>');
  }
  it('completes commands, options, values and files', () => {
    const [commands, options, values, files, others] = offered([
      ['listwright re', 'renumber'],
      ['listwright lint --', 'until-fits'],
      ['listwright lint --format ', 'text'],
      ['listwright fit la', 'lane'],
      ['listwright tokenise o', 'oak.scan'],
    ]);
    expect(commands).toMatch(/record +-- [\s\S]*recover[\s\S]*rehearse[\s\S]*renumber/);
    expect(options).toMatch(/--dry-run +-- [\s\S]*--until-fits/);
    expect(values).toMatch(/json +sarif +text/);
    expect(files).toMatch(/lamp\.bas +lane/);
    expect(files).not.toMatch(/lace/);
    expect(others).toMatch(/oak\.scan/);
  }, 60_000);
});

it('is refused for a shell that there is none of', () => {
  const { status, stderr } = runCli(['completion', 'clam']);
  expect(status).toBe(2);
  expect(stderr).toMatch(/Allowed choices are bash, zsh, fish/);
});
