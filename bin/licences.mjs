// The licences of what a bundle holds, from what esbuild says went into it.
import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

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
/** Texts that packages are without, and what is compiled into them; each as its licence asks for it. */
const OWN = join(dirname(fileURLToPath(import.meta.url)), 'licences');
const ownText = (name) => readFileSync(join(OWN, `${name}.txt`), 'utf8').trim();
const LIBRARIES = JSON.parse(readFileSync(join(OWN, 'libraries.json'), 'utf8'));

/** One text with the licence of every package. Throws where a package comes without one. */
export function licenceText(root, folders) {
  const parts = folders.map((folder) => {
    const about = JSON.parse(readFileSync(join(root, folder, 'package.json'), 'utf8'));
    const files = readdirSync(join(root, folder)).filter((file) => TEXTS.test(file));
    const texts = files.map((file) => readFileSync(join(root, folder, file), 'utf8').trim());
    if (!files.some((file) => /^(licen[cs]e|copying)/i.test(file))) {
      texts.unshift(...usualTexts(root, about));
    }
    return [
      `${about.name} ${about.version} (${about.license})`,
      ...texts,
      ...libraryTexts(about.name),
    ].join('\n\n');
  });
  const head =
    'Listwright is bundled with code of these packages. Each stands under its own licence.';
  return `${[head, ...parts].join(`\n\n${'─'.repeat(80)}\n\n`)}\n`;
}

/** The texts of a package that says only which licence it has, and who wrote it. */
function usualTexts(root, { name, license, author, homepage, repository }) {
  const known = KNOWN[license];
  if (known !== undefined) {
    return [
      `Its source: ${homepage ?? repository?.url}`,
      readFileSync(join(root, known), 'utf8').trim(),
    ];
  }
  const holder = author?.name ?? author;
  if (license !== 'MIT' || typeof holder !== 'string') {
    throw new Error(`${name}: its package holds no text of its licence, ${license}`);
  }
  return [`Copyright (c) ${holder}`, ownText('mit')];
}

function libraryTexts(name) {
  if (!Object.hasOwn(LIBRARIES, name)) return [];
  const { library, holders, notes = [], text } = LIBRARIES[name];
  return [
    `With it: ${library}`,
    ...holders.map((holder) => `Copyright (c) ${holder}`),
    ...notes,
    ownText(text),
  ];
}
