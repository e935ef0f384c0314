package preview

import (
	"crypto/subtle"
	"net"
	"net/http"
	"net/url"
	"strings"
	"sync"
)

// The limits on what visitors may take.
const (
	mostConnections = 64 // at once; a browser opens six
	mostPages       = 24 // that wait for news
	mostAddress     = 2048
)

// policy is what a page may do: load its own style, script, type and pictures from here, and no more. Markup can't be made
// of text in it.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; font-src 'self'; img-src 'self'; connect-src 'self'; " +
	"base-uri 'none'; form-action 'none'; frame-ancestors 'none'; require-trusted-types-for 'script'; trusted-types 'none'"

// picturePolicy is that of a picture which somebody opens on its own: a drawing with a script in it stays a drawing.
const picturePolicy = "default-src 'none'; style-src 'unsafe-inline'; frame-ancestors 'none'; sandbox"

// protect sets what every answer says, also a refusal: kept nowhere, shown nowhere else, told to nobody.
func protect(h http.Header) {
	h.Set("Content-Security-Policy", policy)
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("X-Frame-Options", "DENY")
	h.Set("Referrer-Policy", "no-referrer")
	h.Set("Cache-Control", "no-store")
	h.Set("Cross-Origin-Opener-Policy", "same-origin")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
}

// refusal tells why a request is not answered; 0 when it is. The order is that of what a stranger may learn: nothing.
func (s *server) refusal(r *http.Request) (status int, words string) {
	switch {
	case !s.knows(r.Host):
		return http.StatusMisdirectedRequest, "this address is not the one that the program printed"
	case len(r.RequestURI) > mostAddress:
		return http.StatusRequestURITooLong, "the address is too long"
	case foreign(r, s.hosts):
		return http.StatusForbidden, "another page may not ask here: copy the address into the address line"
	case r.Method != http.MethodGet && r.Method != http.MethodHead:
		return http.StatusMethodNotAllowed, "this page is only to be looked at"
	case r.ContentLength != 0:
		return http.StatusBadRequest, "this page takes nothing in"
	case r.URL.RawPath != "" || strings.ContainsAny(r.URL.Path, "\\\x00") || strings.Contains(r.URL.Path, "//"):
		return http.StatusNotFound, "there is nothing here"
	}
	head, _, _ := strings.Cut(strings.TrimPrefix(r.URL.Path, "/"), "/")
	if subtle.ConstantTimeCompare([]byte(head), []byte(s.secret)) != 1 {
		return http.StatusNotFound, "there is nothing here"
	}
	return 0, ""
}

// knows tells whether a request came by a name of this machine with this port. A page elsewhere can give its own name our
// address, but not our name.
func (s *server) knows(host string) bool {
	for _, h := range s.hosts {
		if strings.EqualFold(h, host) {
			return true
		}
	}
	return false
}

// foreign tells whether another page asks, even one of this machine on another port.
func foreign(r *http.Request, hosts []string) bool {
	for _, site := range r.Header.Values("Sec-Fetch-Site") {
		if site != "same-origin" && site != "none" {
			return true
		}
	}
	for _, origin := range r.Header.Values("Origin") {
		u, err := url.Parse(origin)
		if err != nil || u.Scheme != "http" || !strings.EqualFold(u.Host, r.Host) {
			return true
		}
	}
	return false
}

// hostNames gives the names by which an address of this machine is asked for.
func hostNames(address string) []string {
	_, port, err := net.SplitHostPort(address)
	if err != nil {
		return []string{address}
	}
	return []string{address, net.JoinHostPort("localhost", port)}
}

// bounded takes in so many connections and closes what comes beyond them.
type bounded struct {
	net.Listener
	free chan struct{}
}

// Accept waits for a connection that there is room for.
func (b *bounded) Accept() (net.Conn, error) {
	for {
		c, err := b.Listener.Accept()
		if err != nil {
			return nil, err
		}
		select {
		case b.free <- struct{}{}:
			return &counted{Conn: c, free: b.free}, nil
		default:
			c.Close()
		}
	}
}

// counted gives its place back when it is closed, once.
type counted struct {
	net.Conn
	free chan struct{}
	done sync.Once
}

// Close closes the connection.
func (c *counted) Close() error {
	c.done.Do(func() { <-c.free })
	return c.Conn.Close()
}
