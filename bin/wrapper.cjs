/** The text of the bundle as a function of what a CommonJS module is given. */
exports.wrapper = (text) =>
  `(function (exports, require, module, __filename, __dirname) {${text}\n})`;
