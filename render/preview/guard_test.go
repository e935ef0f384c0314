package preview

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"net"
	"net/http"
	"strings"
	"testing"
	"time"
)

// long is how long something that is bound to happen may take on a busy machine.
const long = 60 * time.Second

// serve shows what a maker makes until the test ends, and gives the address.
func serve(t testing.TB, opt Options) string {
	t.Helper()
	ctx, stop := context.WithCancel(context.Background())
	told, ended := make(chan string, 1), make(chan error, 1)
	opt.Told = func(address string) { told <- address }
	go func() { ended <- Serve(ctx, opt) }()
	t.Cleanup(func() {
		stop()
		select {
		case err := <-ended:
			if err != nil {
				t.Errorf("it ends with %v", err)
			}
		case <-time.After(long):
			t.Error("it does not end")
		}
	})
	select {
	case address := <-told:
		return address
	case err := <-ended:
		t.Fatalf("it does not begin: %v", err)
	}
	return ""
}

// asked sends a request as written, line by line, and gives the answer.
func asked(t testing.TB, host string, lines ...string) *http.Response {
	t.Helper()
	c, err := net.Dial("tcp", host)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { c.Close() })
	if err := c.SetDeadline(time.Now().Add(long)); err != nil {
		t.Fatal(err)
	}
	if _, err := io.WriteString(c, strings.Join(lines, "\r\n")+"\r\n\r\n"); err != nil {
		t.Fatal(err)
	}
	method, _, _ := strings.Cut(lines[0], " ")
	r, err := http.ReadResponse(bufio.NewReader(c), &http.Request{Method: method})
	if err != nil {
		t.Fatalf("%q: %v", lines, err)
	}
	return r
}

// parted gives host and path of an address.
func parted(address string) (host, path string) {
	rest := strings.TrimPrefix(address, "http://")
	host, path, _ = strings.Cut(rest, "/")
	return host, "/" + path
}

func TestTheAddressIsOfThisMachineAndSecret(t *testing.T) {
	host, path := parted(serve(t, Options{Maker: &still{}, Name: "a.md"}))
	ip, _, err := net.SplitHostPort(host)
	if err != nil || !net.ParseIP(ip).IsLoopback() {
		t.Errorf("it listens on %q", host)
	}
	_, other := parted(serve(t, Options{Maker: &still{}, Name: "a.md"}))
	if path == other || len(path) < 26 {
		t.Errorf("the secrets are %q and %q", path, other)
	}
}

func TestRefusals(t *testing.T) {
	host, path := parted(serve(t, Options{Maker: &still{}, Name: "a.md"}))
	_, port, _ := net.SplitHostPort(host)
	for name, c := range map[string]struct {
		status int
		lines  []string
	}{
		"the page":                     {200, []string{"GET " + path + " HTTP/1.1", "Host: " + host}},
		"by its name":                  {200, []string{"GET " + path + " HTTP/1.1", "Host: localhost:" + port}},
		"only the head of it":          {200, []string{"HEAD " + path + "watch.js HTTP/1.1", "Host: " + host}},
		"typed by a person":            {200, []string{"GET " + path + " HTTP/1.1", "Host: " + host, "Sec-Fetch-Site: none"}},
		"by the page itself":           {200, []string{"GET " + path + "watch.css HTTP/1.1", "Host: " + host, "Sec-Fetch-Site: same-origin", "Origin: http://" + host}},
		"without its last stroke":      {308, []string{"GET " + strings.TrimSuffix(path, "/") + " HTTP/1.1", "Host: " + host}},
		"another name for our address": {421, []string{"GET " + path + " HTTP/1.1", "Host: drains.example:" + port}},
		"our address without the port": {421, []string{"GET " + path + " HTTP/1.1", "Host: 127.0.0.1"}},
		"another port":                 {421, []string{"GET " + path + " HTTP/1.1", "Host: 127.0.0.1:1"}},
		"a name that begins like ours": {421, []string{"GET " + path + " HTTP/1.1", "Host: localhost:" + port + ".example"}},
		"no host, as of old":           {421, []string{"GET " + path + " HTTP/1.0"}},
		"no host":                      {400, []string{"GET " + path + " HTTP/1.1"}},
		"two hosts":                    {400, []string{"GET " + path + " HTTP/1.1", "Host: " + host, "Host: drains.example"}},
		"a whole address of another":   {421, []string{"GET http://drains.example" + path + " HTTP/1.1", "Host: " + host}},
		"from another site":            {403, []string{"GET " + path + "events HTTP/1.1", "Host: " + host, "Sec-Fetch-Site: cross-site"}},
		"from another port here":       {403, []string{"GET " + path + "events HTTP/1.1", "Host: " + host, "Sec-Fetch-Site: same-site"}},
		"another origin":               {403, []string{"GET " + path + "events HTTP/1.1", "Host: " + host, "Origin: http://drains.example"}},
		"an origin without a name":     {403, []string{"GET " + path + "events HTTP/1.1", "Host: " + host, "Origin: null"}},
		"the origin of another port":   {403, []string{"GET " + path + "events HTTP/1.1", "Host: " + host, "Origin: http://127.0.0.1:1"}},
		"an origin that is locked":     {403, []string{"GET " + path + "events HTTP/1.1", "Host: " + host, "Origin: https://" + host}},
		"the second of two origins":    {403, []string{"GET " + path + "events HTTP/1.1", "Host: " + host, "Origin: http://" + host, "Origin: http://drains.example"}},
		"writing":                      {405, []string{"POST " + path + " HTTP/1.1", "Host: " + host, "Content-Length: 0"}},
		"taking away":                  {405, []string{"DELETE " + path + " HTTP/1.1", "Host: " + host}},
		"asking what may be done":      {405, []string{"OPTIONS " + path + " HTTP/1.1", "Host: " + host}},
		"a made-up method":             {405, []string{"FETCH " + path + " HTTP/1.1", "Host: " + host}},
		"a body":                       {400, []string{"GET " + path + " HTTP/1.1", "Host: " + host, "Content-Length: 5", "", "12345"}},
		"no secret":                    {404, []string{"GET / HTTP/1.1", "Host: " + host}},
		"a guess":                      {404, []string{"GET /aaaaaaaaaaaaaaaaaaaaaaaaaa/ HTTP/1.1", "Host: " + host}},
		"the secret with more":         {404, []string{"GET " + strings.TrimSuffix(path, "/") + "a/ HTTP/1.1", "Host: " + host}},
		"the secret cut short":         {404, []string{"GET " + path[:len(path)-2] + "/ HTTP/1.1", "Host: " + host}},
		"a file that is not there":     {404, []string{"GET " + path + "a.md HTTP/1.1", "Host: " + host}},
		"the folder above":             {404, []string{"GET " + path + "../../../etc/passwd HTTP/1.1", "Host: " + host}},
		"the folder above, hidden":     {404, []string{"GET " + path + "%2e%2e/%2e%2e/etc/passwd HTTP/1.1", "Host: " + host}},
		"strokes, hidden":              {404, []string{"GET " + path + "picture%2f..%2fwatch.js HTTP/1.1", "Host: " + host}},
		"backward strokes":             {404, []string{"GET " + path + `..\..\a HTTP/1.1`, "Host: " + host}},
		"two strokes":                  {404, []string{"GET /" + path + "watch.js HTTP/1.1", "Host: " + host}},
		"a zero byte":                  {404, []string{"GET " + path + "watch.js%00.html HTTP/1.1", "Host: " + host}},
		"a picture that is none":       {404, []string{"GET " + path + "picture/00 HTTP/1.1", "Host: " + host}},
		"a long address":               {414, []string{"GET " + path + "events?p=" + strings.Repeat("a", 4000) + " HTTP/1.1", "Host: " + host}},
		"a large head":                 {431, []string{"GET " + path + " HTTP/1.1", "Host: " + host, "X: " + strings.Repeat("a", 20000)}},
	} {
		t.Run(name, func(t *testing.T) {
			r := asked(t, host, c.lines...)
			if r.StatusCode != c.status {
				t.Errorf("status %d, want %d", r.StatusCode, c.status)
			}
			body, _ := io.ReadAll(io.LimitReader(r.Body, 200))
			if r.StatusCode >= 300 && strings.Contains(string(body), "html") {
				t.Errorf("a stranger gets %q", body)
			}
		})
	}
}

// Every answer of ours, a refusal too, says that it is kept nowhere, shown nowhere else, and may load nothing from elsewhere.
func TestEveryAnswerIsProtected(t *testing.T) {
	host, path := parted(serve(t, Options{Maker: &still{}, Name: "a.md"}))
	for _, ask := range []string{path, path + "watch.js", path + "face0-0.ttf", path + "events", path + "none", "/"} {
		r := asked(t, host, "GET "+ask+" HTTP/1.1", "Host: "+host)
		for key, want := range map[string]string{
			"Cache-Control": "no-store", "X-Content-Type-Options": "nosniff", "Referrer-Policy": "no-referrer",
			"Cross-Origin-Resource-Policy": "same-origin", "Cross-Origin-Opener-Policy": "same-origin", "X-Frame-Options": "DENY",
		} {
			if r.Header.Get(key) != want {
				t.Errorf("%s: %s is %q", ask, key, r.Header.Get(key))
			}
		}
		policy := r.Header.Get("Content-Security-Policy")
		for _, part := range []string{"default-src 'none'", "frame-ancestors 'none'", "base-uri 'none'", "form-action 'none'", "require-trusted-types-for 'script'"} {
			if !strings.Contains(policy, part) {
				t.Errorf("%s: the policy %q lacks %q", ask, policy, part)
			}
		}
		if strings.Contains(policy, "unsafe") || strings.Contains(policy, "http") || strings.Contains(policy, "*") {
			t.Errorf("%s: the policy is %q", ask, policy)
		}
		for _, header := range []string{"Access-Control-Allow-Origin", "Set-Cookie", "Server"} {
			if r.Header.Get(header) != "" {
				t.Errorf("%s: it says %s", ask, header)
			}
		}
	}
}

// More pages than there is room for are told so, and leaving makes room.
func TestPagesAreCounted(t *testing.T) {
	host, path := parted(serve(t, Options{Maker: &still{}, Name: "a.md"}))
	var open []net.Conn
	page := func() (int, net.Conn) {
		c, err := net.Dial("tcp", host)
		if err != nil {
			t.Fatal(err)
		}
		fmt.Fprintf(c, "GET %sevents HTTP/1.1\r\nHost: %s\r\n\r\n", path, host)
		r, err := http.ReadResponse(bufio.NewReader(c), nil)
		if err != nil {
			t.Fatal(err)
		}
		return r.StatusCode, c
	}
	for n := range mostPages {
		status, c := page()
		if status != 200 {
			t.Fatalf("page %d: %d", n+1, status)
		}
		open = append(open, c)
	}
	status, c := page()
	if status != http.StatusServiceUnavailable {
		t.Errorf("one too many: %d", status)
	}
	c.Close()
	open[0].Close()
	for end := time.Now().Add(long); ; time.Sleep(5 * time.Millisecond) {
		status, c := page()
		c.Close()
		if status == 200 {
			break
		}
		if time.Now().After(end) {
			t.Fatal("a page that has gone still takes its room")
		}
	}
	for _, c := range open[1:] {
		c.Close()
	}
}

// Beyond its bound a listener takes in nothing more; what is closed makes room, once.
func TestConnectionsAreBounded(t *testing.T) {
	inner, err := net.Listen("tcp4", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	l := &bounded{Listener: inner, free: make(chan struct{}, 3)}
	defer l.Close()
	taken := make(chan net.Conn, 10)
	go func() {
		for {
			c, err := l.Accept()
			if err != nil {
				return
			}
			taken <- c
		}
	}()
	dial := func() net.Conn {
		c, err := net.Dial("tcp4", inner.Addr().String())
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { c.Close() })
		if err := c.SetDeadline(time.Now().Add(long)); err != nil {
			t.Fatal(err)
		}
		return c
	}
	var in []net.Conn
	for range 3 {
		dial()
		in = append(in, <-taken)
	}
	if _, err := dial().Read(make([]byte, 1)); err == nil || isTimeout(err) {
		t.Errorf("a connection beyond the bound is not shut: %v", err)
	}
	in[0].Close()
	in[0].Close()
	dial()
	<-taken
	if _, err := dial().Read(make([]byte, 1)); err == nil || isTimeout(err) {
		t.Errorf("a connection that was closed twice made room for two: %v", err)
	}
}

// After a flood of connections that say nothing the page is served again.
func TestFloodEbbs(t *testing.T) {
	host, path := parted(serve(t, Options{Maker: &still{}, Name: "a.md"}))
	var flood []net.Conn
	for range mostConnections + 40 {
		c, err := net.Dial("tcp", host)
		if err != nil {
			t.Fatal(err)
		}
		flood = append(flood, c)
	}
	for _, c := range flood {
		c.Close()
	}
	for end := time.Now().Add(long); ; time.Sleep(10 * time.Millisecond) {
		r, err := http.Get("http://" + host + path)
		if err == nil {
			r.Body.Close()
			return
		}
		if time.Now().After(end) {
			t.Fatal(err)
		}
	}
}

func isTimeout(err error) bool {
	e, ok := err.(net.Error)
	return ok && e.Timeout()
}

func TestAPortThatIsTaken(t *testing.T) {
	l, err := net.Listen("tcp4", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	err = Serve(context.Background(), Options{Maker: &still{}, Port: l.Addr().(*net.TCPAddr).Port})
	if err == nil || !strings.Contains(err.Error(), "another program has the port") {
		t.Errorf("it says %v", err)
	}
}
