/** Which screen is open. Kept across a restart, and in nothing that is about a patient. */
export type View =
  | { readonly name: 'frame' }
  /** What the team says before the patient comes. */
  | { readonly name: 'brief' }
  | { readonly name: 'checkpoint'; readonly about: string }
  | { readonly name: 'count'; readonly about: string }
  | { readonly name: 'recount' }
  | { readonly name: 'discrepancy'; readonly about: string }
  | { readonly name: 'specimen'; readonly about: string }
  | { readonly name: 'look'; readonly about: string }
  | { readonly name: 'closing'; readonly about: string }
  | { readonly name: 'leaving' }
  | { readonly name: 'record' }
  | { readonly name: 'wall' }
  /** Antibiotics: what was given, and when the next is due. */
  | { readonly name: 'dose' }
  /** What was caught and missed, at the end of a practice case. */
  | { readonly name: 'debrief' }
  | { readonly name: 'paper' };

export type Route =
  | { readonly screen: 'start' }
  | { readonly screen: 'opening' }
  | { readonly screen: 'people' }
  | { readonly screen: 'library' }
  | { readonly screen: 'afterwards' }
  | { readonly screen: 'case'; readonly caseId: string; readonly view: View };

const plainScreens = ['opening', 'people', 'library', 'afterwards'] as const;
const plainViews = [
  'frame',
  'brief',
  'recount',
  'leaving',
  'record',
  'wall',
  'dose',
  'paper',
  'debrief',
] as const;
const aboutViews = ['checkpoint', 'count', 'discrepancy', 'specimen', 'look', 'closing'] as const;

/** Where the memory of the screen keeps the route. */
export const routeKey = 'lastlook-route';

export const startRoute: Route = { screen: 'start' };

/** A route as one line of text. */
export function routeText(route: Route): string {
  if (route.screen !== 'case') return route.screen;
  const about = 'about' in route.view ? route.view.about : '';
  return ['case', route.caseId, route.view.name, about].map(encodeURIComponent).join('/');
}

/** The route that a line of text means; the start where it means none. */
export function routeFrom(text: string | undefined): Route {
  const [screen, caseId, name, about] = (text ?? '').split('/').map(decoded);
  const plainScreen = plainScreens.find((known) => known === screen);
  if (plainScreen) return { screen: plainScreen };
  if (screen !== 'case' || !caseId) return startRoute;
  const plain = plainViews.find((known) => known === name);
  if (plain) return { screen, caseId, view: { name: plain } };
  const known = aboutViews.find((one) => one === name);
  if (known && about) return { screen, caseId, view: { name: known, about } };
  return { screen, caseId, view: { name: 'frame' } };
}

function decoded(part: string): string {
  try {
    return decodeURIComponent(part);
  } catch {
    return '';
  }
}
