import './foil-app.ts';

/** The command line names the files it serves in a meta tag; without one the app starts empty. */
const served = document.querySelector<HTMLMetaElement>('meta[name="camberwright-session"]')?.content;
const asked = new URLSearchParams(location.search).get('open');
const app = document.createElement('foil-app');
if (served) app.served = served;
else if (asked && new URL(asked, document.baseURI).origin === location.origin) app.served = asked;
document.body.append(app);
