// Hears what the program tells, says when it is not there, and asks again by itself.

const silence = 15000, pause = 1000; // ms

// listen calls show with each thing that is told at an address. A page that nobody sees holds no connection, because a browser
// has few for one address; it asks anew when it is looked at again.
export function listen(address, show) {
  const lost = document.getElementById('lost');
  let news = null, watchdog = 0, retry = 0;

  function alive() {
    lost.hidden = true;
    clearTimeout(watchdog);
    watchdog = setTimeout(lose, silence);
  }

  function lose() {
    close();
    if (lost.hidden) {
      const now = new Date().toLocaleTimeString('en', { hour: '2-digit', minute: '2-digit', hourCycle: 'h23' });
      lost.textContent = `Connection lost at ${now}: what stands here may be old. This page asks again by itself. If the program has ended, start it again and open the address that it prints.`;
      lost.hidden = false;
    }
    retry = setTimeout(connect, pause);
  }

  function close() {
    clearTimeout(watchdog);
    clearTimeout(retry);
    news?.close();
    news = null;
  }

  function connect() {
    close();
    watchdog = setTimeout(lose, silence);
    news = new EventSource(address);
    news.addEventListener('open', alive);
    news.addEventListener('beat', alive);
    news.addEventListener('show', (e) => { alive(); show(JSON.parse(e.data)); });
    news.addEventListener('error', lose);
  }

  document.addEventListener('visibilitychange', () => { if (document.hidden) close(); else connect(); });
  addEventListener('pagehide', close);
  addEventListener('pageshow', (e) => { if (e.persisted) connect(); });
  if (!document.hidden) connect();
}
