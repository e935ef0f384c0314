package wire

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"
	"testing"
	"testing/fstest"

	"refitcard/compiler/rules"
)

// asked lists a request of every kind about a document.
func asked(uri string, line, character int) string {
	var b strings.Builder
	for i, method := range []string{"hover", "completion", "definition", "references", "prepareRename", "rename", "documentSymbol", "foldingRange", "codeAction", "formatting"} {
		b.WriteString(frame(fmt.Sprintf(`{"jsonrpc":"2.0","id":%d,"method":"textDocument/%s","params":{"textDocument":{"uri":%q},"position":{"line":%d,"character":%d},`+
			`"range":{"start":{"line":%d,"character":0},"end":{"line":%d,"character":99}},"newName":"spare bolt","context":{"includeDeclaration":true}}}`,
			i+10, method, uri, line, character, line, line)))
	}
	return b.String()
}

// session is a whole session over one text: opened, asked, changed, asked again, closed.
func session(text string, line, character int) string {
	quoted, _ := json.Marshal(text)
	return frame(strings.Replace(helloFrame, `{"capabilities":{}}`, full, 1)) + frame(`{"jsonrpc":"2.0","method":"initialized","params":{}}`) +
		frame(fmt.Sprintf(`{"jsonrpc":"2.0","method":"textDocument/didOpen","params":{"textDocument":{"uri":"file:///shop/a.md","languageId":"markdown","version":1,"text":%s}}}`, quoted)) +
		asked("file:///shop/a.md", line, character) +
		frame(fmt.Sprintf(`{"jsonrpc":"2.0","method":"textDocument/didChange","params":{"textDocument":{"uri":"file:///shop/a.md","version":2},"contentChanges":[{"range":{"start":{"line":%d,"character":%d},"end":{"line":%d,"character":%d}},"text":"{🔧"}]}}`, line, character, line+1, 0)) +
		asked("file:///shop/a.md", line, character) +
		frame(`{"jsonrpc":"2.0","method":"textDocument/didClose","params":{"textDocument":{"uri":"file:///shop/a.md"}}}`) +
		frame(byeFrame) + frame(exitFrame)
}

// Whatever an editor sends: the session ends when the stream does, all that is said is in frames, and the program never stumbles.
func FuzzServe(f *testing.F) {
	texts := cases(f, "testdata/faulty")
	n := 0
	for i, name := range names(texts) {
		if i%8 == 0 { // the test below plays them all
			clean, _ := rules.CutMarks(texts[name])
			f.Add([]byte(session(string(clean), len(name)%40, len(name)%7)))
			n++
		}
	}
	for _, s := range []string{"Content-Length: 5\r\n\r\n{}", frame("[]"), frame(byeFrame), strings.Repeat("\n", 100)} {
		f.Add([]byte(frame(helloFrame) + s))
	}
	if n < 10 {
		f.Fatalf("only %d sessions", n)
	}
	f.Fuzz(func(t *testing.T, stream []byte) {
		var out bytes.Buffer
		if _, err := Serve(context.Background(), bytes.NewReader(stream), &out, hostOf(fstest.MapFS{})); err != nil {
			t.Fatal(err)
		}
		sound(t, &out)
	})
}

// sound reads all that a server said.
func sound(t *testing.T, out io.Reader) (answers int) {
	t.Helper()
	r := newFrames(out)
	for {
		body, err := r.next()
		if err != nil {
			if !errors.Is(err, io.EOF) {
				t.Fatal(err)
			}
			return answers
		}
		var m message
		if err := json.Unmarshal(body, &m); err != nil || m.Version != "2.0" {
			t.Fatalf("%v: %q", err, body)
		}
		if m.Method == "" {
			answers++
		}
		if m.Error != nil && m.Error.Code == internalError || strings.Contains(string(body), "the program stumbled") {
			t.Fatalf("%s", body)
		}
	}
}

// Every text of the tests gets a whole session.
func TestASessionOverEveryText(t *testing.T) {
	for _, folder := range []string{"testdata/faulty", "testdata/clean", "procedures"} {
		for name, text := range cases(t, folder) {
			clean, _ := rules.CutMarks(text)
			var out bytes.Buffer
			lines := strings.Count(string(clean), "\n") + 1
			code, err := Serve(context.Background(), strings.NewReader(session(string(clean), lines*2/3, 9)), &out, hostOf(fstest.MapFS{}))
			if err != nil || code != 0 {
				t.Fatalf("%s: exit %d, %v", name, code, err)
			}
			if got := sound(t, &out); got != 22 {
				t.Errorf("%s: %d answers, want 22", name, got)
			}
		}
	}
}
