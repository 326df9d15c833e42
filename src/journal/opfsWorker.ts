import { answerRequest, type FileRequest } from './fileRequest.ts';
import { fileStore } from './fileStore.ts';
import { opfsDirectory } from './opfsDirectory.ts';

const store = Promise.resolve(fileStore(opfsDirectory(navigator.storage)));

addEventListener('message', ({ data, ports }: MessageEvent<FileRequest>) => {
  void answerRequest(store, data).then((answer) => ports[0]?.postMessage(answer));
});
