/** The language server of the page, in a Web Worker. */
import { serve } from '../../language-server/serve.js';
import { connectionOver, type Port } from './connection.js';
import { knownOf } from './known.js';

const connection = {
  ...connectionOver(self as unknown as Port),
  // The same findings go with what else is known.
  sendDiagnostics: async () => undefined,
};

serve(connection, {
  known: (uri, version, snapshot) => {
    void connection.sendNotification('listwright/known', { uri, version, ...knownOf(snapshot) });
  },
});
