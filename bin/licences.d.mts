import type { Metafile } from 'esbuild';

export function bundledPackages(metafiles: readonly Metafile[]): string[];
export function licenceText(root: string, folders: readonly string[]): string;
