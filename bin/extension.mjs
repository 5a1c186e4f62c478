// Builds the editor's extension: client and server bundled, and the one file that an editor installs.
import { copyFileSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import { zipSync } from 'fflate';

const root = join(dirname(fileURLToPath(import.meta.url)), '..');
const folder = join(root, 'dist', 'extension');
const given = join(root, 'grammar', 'derived', 'editor');
const { version } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'));

rmSync(folder, { recursive: true, force: true });
mkdirSync(folder, { recursive: true });

const common = {
  absWorkingDir: root,
  bundle: true,
  platform: 'node',
  target: 'node20',
  format: 'cjs',
  minify: true,
  define: { LISTWRIGHT_VERSION: JSON.stringify(version) },
  logLevel: 'warning',
  legalComments: 'eof',
};
await build({
  ...common,
  entryPoints: ['src/extension/extension.ts'],
  outfile: join(folder, 'extension.cjs'),
  external: ['vscode'],
});
await build({
  ...common,
  stdin: {
    contents:
      "import { serveStandardIO } from './src/cli/language-server-io.ts'; serveStandardIO({});",
    resolveDir: root,
  },
  outfile: join(folder, 'server.cjs'),
});

const manifest = { ...JSON.parse(readFileSync(join(given, 'package.json'), 'utf8')), version };
writeFileSync(join(folder, 'package.json'), `${JSON.stringify(manifest, null, 2)}\n`);
for (const name of ['language.json', 'listing.tmLanguage.json']) {
  copyFileSync(join(given, name), join(folder, name));
}
copyFileSync(join(root, 'LICENSE'), join(folder, 'LICENSE.txt'));

/** The manifest of the package around the extension (Open Packaging Conventions, ECMA-376 part 2). */
function packageManifest({ name, displayName, description, publisher, engines, categories }) {
  const asset = (type, path) =>
    `<Asset Type="Microsoft.VisualStudio.${type}" Path="extension/${path}" Addressable="true"/>`;
  return `<?xml version="1.0" encoding="utf-8"?>
<PackageManifest Version="2.0.0" xmlns="http://schemas.microsoft.com/developer/vsx-schema/2011">
<Metadata>
<Identity Language="en-US" Id="${name}" Version="${version}" Publisher="${publisher}"/>
<DisplayName>${displayName}</DisplayName>
<Description xml:space="preserve">${description}</Description>
<Categories>${categories.join(',')}</Categories>
<Properties><Property Id="Microsoft.VisualStudio.Code.Engine" Value="${engines.vscode}"/></Properties>
<License>extension/LICENSE.txt</License>
</Metadata>
<Installation><InstallationTarget Id="Microsoft.VisualStudio.Code"/></Installation>
<Dependencies/>
<Assets>
${asset('Code.Manifest', 'package.json')}
${asset('Services.Content.License', 'LICENSE.txt')}
</Assets>
</PackageManifest>
`;
}

const CONTENT_TYPES = `<?xml version="1.0" encoding="utf-8"?>
<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">
<Default Extension=".json" ContentType="application/json"/>
<Default Extension=".vsixmanifest" ContentType="text/xml"/>
<Default Extension=".cjs" ContentType="application/javascript"/>
<Default Extension=".txt" ContentType="text/plain"/>
</Types>
`;

const names = [
  'package.json',
  'language.json',
  'listing.tmLanguage.json',
  'extension.cjs',
  'server.cjs',
  'LICENSE.txt',
];
const files = Object.fromEntries(
  names.map((name) => [`extension/${name}`, readFileSync(join(folder, name))]),
);
const text = (words) => new TextEncoder().encode(words);
const packed = zipSync({
  '[Content_Types].xml': text(CONTENT_TYPES),
  'extension.vsixmanifest': text(packageManifest(manifest)),
  ...files,
});
const file = join(root, 'dist', `listwright-${version}.vsix`);
writeFileSync(file, packed);
console.log(
  `dist/listwright-${version}.vsix: ${Math.round(packed.length / 1024)} KB; install it from your editor's list of extensions`,
);
