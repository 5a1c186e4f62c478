// The licences of what a bundle holds, from what esbuild says went into it.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

/** The packages of which a file went into one of the builds, by their folders from the root. */
export function bundledPackages(metafiles) {
  const folders = metafiles
    .flatMap(({ inputs }) => Object.keys(inputs))
    .map((path) => /^.*node_modules\/(?:@[^/]+\/)?[^/]+/.exec(path)?.[0])
    .filter((folder) => folder !== undefined);
  return [...new Set(folders)].sort();
}

/** The files of a package that must go where its code goes: its licence, and its notices. */
const TEXTS = /^(licen[cs]e|notice|copying|third-?party-?notices)(\.(md|txt))?$/i;

/** Licences that a package only names: their texts, which stand here. */
const KNOWN = { 'MPL-2.0': 'bin/MPL-2.0.txt' };

/** One text with the licence of every package. Throws where a package comes without one. */
export function licenceText(root, folders) {
  const parts = folders.map((folder) => {
    const about = JSON.parse(readFileSync(join(root, folder, 'package.json'), 'utf8'));
    const files = readdirSync(join(root, folder)).filter((file) => TEXTS.test(file));
    const texts = files.map((file) => readFileSync(join(root, folder, file), 'utf8').trim());
    if (!files.some((file) => /^(licen[cs]e|copying)/i.test(file))) {
      const known = KNOWN[about.license];
      if (known === undefined) {
        throw new Error(
          `${about.name}: its package holds no text of its licence, ${about.license}`,
        );
      }
      texts.unshift(
        `Its source: ${about.homepage ?? about.repository?.url}`,
        readFileSync(join(root, known), 'utf8').trim(),
      );
    }
    return [`${about.name} ${about.version} (${about.license})`, ...texts].join('\n\n');
  });
  const head =
    'Listwright is bundled with code of these packages. Each stands under its own licence.';
  return `${[head, ...parts].join(`\n\n${'─'.repeat(80)}\n\n`)}\n`;
}
