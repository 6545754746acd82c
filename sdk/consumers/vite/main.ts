/** A page that is built by Vite: the same question to the service that the page names, and without a network. */
import { Wheelgrist } from '@wheelgrist/sdk';
import { ratioByLink } from '@wheelgrist/sdk/offline';

const question = { driveWheel: '560 mm', whorl: '60 mm', band: '2 mm' };
const show = (id: string, text: string | undefined): void => { document.querySelector(`#${id}`)!.textContent = text ?? ''; };
show('here', ratioByLink(question).result.whorls?.[0]?.flyerRatio.text);
const there = await new Wheelgrist({ baseUrl: document.querySelector('main')!.dataset['service']! }).ratioByLink(question);
show('there', there.result.whorls?.[0]?.flyerRatio.text);
