import { answerRequest, type FileAnswer, type FileQuestion } from './fileRequest.ts';
import { fileStore } from './fileStore.ts';
import { opfsDirectory } from './opfsDirectory.ts';

const store = Promise.resolve(fileStore(opfsDirectory(navigator.storage)));

addEventListener('message', ({ data: { number, request } }: MessageEvent<FileQuestion>) => {
  void answerRequest(store, request).then((answer) => {
    const answered: FileAnswer = { number, answer };
    postMessage(answered);
  });
});
