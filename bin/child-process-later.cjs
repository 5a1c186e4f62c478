/**
 * Stands for node:child_process in the bundle and loads it when something is spawned: Commander
 * asks for it at every start, for commands that are programs of their own, and this has none. What
 * that saves stands in `npm run bench`.
 */
// biome-ignore lint/style/useNodejsImportProtocol: with node: before it this would be replaced by itself
exports.spawn = (...args) => require('child_process').spawn(...args);
