package preview

import (
	"context"
	"fmt"
	"io"
	"net/http"
	"path"
	"strings"
	"sync"
	"time"

	"refitcard/render/faces"
	"refitcard/templates"
)

// server answers the browser and keeps what it shows.
type server struct {
	opt    Options
	hosts  []string // the names it is asked for by
	secret string
	fixed  map[string]answer // what never changes, by its path behind the secret

	mu       sync.Mutex
	views    map[string]*view
	pictures map[string]picture
	wake     chan struct{} // a view wants to be made
}

// answer is a file of the page.
type answer struct {
	kind string
	data []byte
}

// patience is how long a browser may take to read what is sent.
const patience = 10 * time.Second

// beat is how often a page is told that the program lives.
const beat = 5 * time.Second

func newServer(opt Options, address string) *server {
	return &server{
		opt: opt, hosts: hostNames(address), secret: secret(), fixed: fixedAnswers(),
		views: map[string]*view{}, pictures: map[string]picture{}, wake: make(chan struct{}, 1),
	}
}

// address is what a person opens.
func (s *server) address() string { return "http://" + s.hosts[0] + "/" + s.secret + "/" }

// fixedAnswers are page, style, script, sign and type.
func fixedAnswers() map[string]answer {
	all := map[string]answer{}
	kinds := map[string]string{".html": "text/html", ".css": "text/css", ".js": "text/javascript", ".svg": "image/svg+xml"}
	for _, name := range []string{"watch.html", "watch.css", "watch.js", "watch-draw.js", "watch-news.js", "watch-places.js", "sign.svg"} {
		data, err := templates.Pages.ReadFile("pages/" + name)
		if err != nil {
			panic(err) // it is built in
		}
		all[name] = answer{kinds[path.Ext(name)] + "; charset=utf-8", data}
	}
	all[""] = all["watch.html"]
	for _, f := range faces.Fonts() {
		all[fmt.Sprintf("face%d-%d.ttf", f.Face, f.Set)] = answer{"font/ttf", webFont(f)}
	}
	return all
}

// ServeHTTP answers one request, or refuses it in a line of plain words.
func (s *server) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	protect(w.Header())
	if status, words := s.refusal(r); status != 0 {
		refuse(w, status, words)
		return
	}
	name := strings.TrimPrefix(r.URL.Path, "/"+s.secret)
	if name == "" { // the address without its last stroke: the page's files lie below it
		w.Header().Set("Location", "/"+s.secret+"/")
		w.WriteHeader(http.StatusPermanentRedirect)
		return
	}
	name = name[1:]
	if a, ok := s.fixed[name]; ok {
		send(w, r, a)
		return
	}
	if key, ok := strings.CutPrefix(name, "picture/"); ok {
		s.mu.Lock()
		p, ok := s.pictures[key]
		s.mu.Unlock()
		if ok {
			w.Header().Set("Content-Security-Policy", picturePolicy)
			send(w, r, answer(p))
			return
		}
	}
	if name == "events" {
		s.events(w, r)
		return
	}
	refuse(w, http.StatusNotFound, "there is nothing here")
}

func send(w http.ResponseWriter, r *http.Request, a answer) {
	w.Header().Set("Content-Type", a.kind)
	w.Header().Set("Content-Length", fmt.Sprint(len(a.data)))
	deadline(w)
	if r.Method != http.MethodHead {
		_, _ = w.Write(a.data) // a browser that has gone wants nothing
	}
}

func refuse(w http.ResponseWriter, status int, words string) {
	w.Header().Set("Content-Type", "text/plain; charset=utf-8")
	w.Header().Set("Connection", "close")
	if status == http.StatusMethodNotAllowed {
		w.Header().Set("Allow", "GET, HEAD")
	}
	deadline(w)
	w.WriteHeader(status)
	_, _ = io.WriteString(w, words+"\n")
}

func deadline(w http.ResponseWriter) {
	// A recorder of a test has no deadline.
	_ = http.NewResponseController(w).SetWriteDeadline(time.Now().Add(patience))
}

// events sends what a page shows, at once and at each change, until the browser goes.
func (s *server) events(w http.ResponseWriter, r *http.Request) {
	name := r.URL.Query().Get("p")
	if s.opt.Name != "" {
		name = s.opt.Name
	}
	news, leave, ok := s.join(name)
	if !ok {
		refuse(w, http.StatusServiceUnavailable, "too many pages are open: close some")
		return
	}
	defer leave()
	w.Header().Set("Content-Type", "text/event-stream")
	_ = http.NewResponseController(w).SetReadDeadline(time.Time{}) // nothing more is read
	if r.Method == http.MethodHead {
		return
	}
	s.tell(r.Context(), w, news)
}

func (s *server) tell(ctx context.Context, w http.ResponseWriter, news <-chan []byte) {
	pulse := time.NewTicker(beat)
	defer pulse.Stop()
	control := http.NewResponseController(w)
	for {
		var err error
		deadline(w)
		select {
		case <-ctx.Done():
			return
		case <-pulse.C:
			deadline(w)
			_, err = io.WriteString(w, "event: beat\ndata: 1\n\n")
		case data := <-news:
			deadline(w)
			_, err = fmt.Fprintf(w, "event: show\ndata: %s\n\n", data)
		}
		if err == nil {
			err = control.Flush()
		}
		if err != nil {
			return
		}
	}
}
