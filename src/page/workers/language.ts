/** The language server of the page, in a Web Worker. */
import {
  BrowserMessageReader,
  BrowserMessageWriter,
  createConnection,
} from 'vscode-languageserver/browser';
import { serve } from '../../language-server/serve.js';
import { knownOf } from './known.js';

const port = self as unknown as Worker;
const connection = createConnection(new BrowserMessageReader(port), new BrowserMessageWriter(port));

serve(connection, {
  known: (uri, version, snapshot) => {
    void connection.sendNotification('listwright/known', { uri, version, ...knownOf(snapshot) });
  },
});
