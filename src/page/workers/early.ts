/** Starts the language server while the page itself is still on its way: both take a moment. */
import { isFromFiles } from './address.js';

if (!isFromFiles) globalThis.earlyLanguage = new Worker('language.js');
