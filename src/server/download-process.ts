/**
 * Makes documents and exports, in a process of its own: what their libraries may do to memory or time is kept away from
 * the server that follows the benches. Takes jobs as messages and answers each.
 */
import { downloadJob } from './download-order.ts';
import { answerDownload } from './make-download.ts';

process.on('message', (message) => {
  const { folder, order } = downloadJob.parse(message);
  void answerDownload(folder, order).then((answer) => process.send?.(answer));
});
// Without the server nobody asks any more.
process.on('disconnect', () => process.exit());
