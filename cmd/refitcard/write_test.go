//go:build linux || darwin || freebsd

package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
)

// inFolder goes into an empty folder that holds one sound procedure.
func inFolder(t *testing.T) {
	t.Helper()
	t.Chdir(t.TempDir())
	lays(t, "job.md", cleanJob)
}

func lays(t *testing.T, name, text string) {
	t.Helper()
	if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

func wantCode(t *testing.T, code int, said string, args ...string) {
	t.Helper()
	got, _, problems, _ := spend(args...)
	if got != code || !strings.Contains(problems, said) {
		t.Errorf("%q: exit %d, want %d; says %q, want %q in it", args, got, code, problems, said)
	}
	left, err := filepath.Glob(tempMark + "*")
	if err != nil || len(left) > 0 {
		t.Errorf("%q: %q is left, %v", args, left, err)
	}
}

func holds(t *testing.T, name, start string) {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil || !strings.HasPrefix(string(data), start) {
		t.Errorf("%q holds %.30q, want %q, %v", name, data, start, err)
	}
}

// The name of a sheet comes from the document: a link that lies in wait there leads nowhere.
func TestALinkInPlaceOfASheetIsReplaced(t *testing.T) {
	inFolder(t)
	lays(t, "secret", "mine")
	for name, to := range map[string]string{"SL-1-A-card.pdf": "secret", "SL-1-A-record.pdf": "nowhere"} {
		if err := os.Symlink(to, name); err != nil {
			t.Fatal(err)
		}
	}
	wantCode(t, done, "", "card", "job.md")
	wantCode(t, done, "", "record", "job.md")
	holds(t, "secret", "mine")
	holds(t, "SL-1-A-card.pdf", "%PDF")
	holds(t, "SL-1-A-record.pdf", "%PDF")
	if info, err := os.Lstat("SL-1-A-card.pdf"); err != nil || !info.Mode().IsRegular() {
		t.Errorf("the card is still a link, %v", err)
	}
	if _, err := os.Lstat("nowhere"); err == nil {
		t.Error("a link that led nowhere made a file elsewhere")
	}
}

// A link that somebody names is meant: what it leads to is renewed, and it stays a link.
func TestANamedLinkIsFollowed(t *testing.T) {
	inFolder(t)
	lays(t, "real.pdf", "old")
	for name, to := range map[string]string{"link.pdf": "real.pdf", "dangling.pdf": "nowhere.pdf"} {
		if err := os.Symlink(to, name); err != nil {
			t.Fatal(err)
		}
	}
	wantCode(t, done, "", "card", "-o", "link.pdf", "job.md")
	holds(t, "real.pdf", "%PDF")
	if info, err := os.Lstat("link.pdf"); err != nil || info.Mode()&os.ModeSymlink == 0 {
		t.Errorf("the link is gone, %v", err)
	}
	wantCode(t, unusable, "a link to a place that is not there", "card", "-o", "dangling.pdf", "job.md")
}

// What stands in the place of a sheet and is no file stays.
func TestWhatIsNoFileStays(t *testing.T) {
	inFolder(t)
	if err := os.Mkdir("SL-1-A-card.pdf", 0o755); err != nil {
		t.Fatal(err)
	}
	if err := syscall.Mkfifo("SL-1-A-record.pdf", 0o644); err != nil {
		t.Fatal(err)
	}
	wantCode(t, unusable, "no file", "card", "job.md")
	wantCode(t, unusable, "no file", "record", "job.md")
	wantCode(t, unusable, "vanished", "card", "-o", "vanished/card.pdf", "job.md")
	wantCode(t, unusable, "too long", "card", "-o", strings.Repeat("x", 300)+".pdf", "job.md")
	wantCode(t, unusable, "neither a file nor a folder", "check", "SL-1-A-record.pdf")
}

// A device that is named is written to, and stays a device.
func TestADeviceIsWrittenTo(t *testing.T) {
	inFolder(t)
	wantCode(t, done, "", "card", "-o", os.DevNull, "job.md")
	if info, err := os.Stat(os.DevNull); err != nil || info.Mode().IsRegular() {
		t.Fatalf("%s was replaced by a file, %v", os.DevNull, err)
	}
	if _, err := os.Stat("/dev/full"); err != nil {
		t.Skip("there is no /dev/full, so not checked: a full disk")
	}
	wantCode(t, unusable, "no space left", "card", "-o", "/dev/full", "job.md")
	wantCode(t, unusable, "no space left", "check", "--format", "json", "-o", "/dev/full", "job.md")
	if info, err := os.Stat("/dev/full"); err != nil || info.Mode().IsRegular() {
		t.Fatalf("/dev/full was replaced by a file, %v", err)
	}
}

// A pipe in a library is nobody's procedure, nor an include, nor settings: to open it would wait for ever.
func TestPipesAreNotOpened(t *testing.T) {
	inFolder(t)
	lays(t, "with.md", strings.Replace(cleanJob, "## Clean", "{include pipe.md}\n\n## Clean", 1))
	for _, name := range []string{"pipe.md", "refitcard.yaml"} {
		if err := syscall.Mkfifo(name, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Symlink("pipe.md", "link.md"); err != nil {
		t.Fatal(err)
	}
	wantCode(t, found, "", "check", ".")
}

func TestWhatAKilledRunLeftGoes(t *testing.T) {
	inFolder(t)
	lays(t, tempMark+"123", "half a ca")
	wantCode(t, done, "", "card", "job.md")

	live, err := newTemp(".")
	if err != nil {
		t.Fatal(err)
	}
	if code, _, problems, _ := spend("card", "job.md"); code != done {
		t.Errorf("exit %d: %s", code, problems)
	}
	if _, err := os.Lstat(live.Name()); err != nil {
		t.Errorf("a file that another run is writing was taken away: %v", err)
	}
	live.Close()
	wantCode(t, done, "", "card", "job.md")
}

// Two runs over one library into one folder do each other no harm.
func TestTwoRunsAtOnce(t *testing.T) {
	inFolder(t)
	for _, n := range []string{"2", "3", "4"} {
		lays(t, "job"+n+".md", strings.Replace(cleanJob, "SL-1", "SL-"+n, 1))
	}
	var both sync.WaitGroup
	for range 2 {
		both.Go(func() {
			for range 3 {
				os.Remove(filepath.Join("out", ledgerFile)) // so that all is made anew
				if code, _, problems, _ := spend("press", ".", "-o", "out"); code != done {
					t.Errorf("exit %d: %s", code, problems)
				}
			}
		})
	}
	both.Wait()
	entries, err := os.ReadDir("out")
	if err != nil || len(entries) < 12 {
		t.Fatalf("%d files, %v", len(entries), err)
	}
	for _, e := range entries {
		data, err := os.ReadFile(filepath.Join("out", e.Name()))
		whole := filepath.Ext(e.Name()) != ".pdf" || bytes.HasPrefix(data, []byte("%PDF")) && bytes.HasSuffix(bytes.TrimSpace(data), []byte("%%EOF"))
		if err != nil || !whole || strings.HasPrefix(e.Name(), tempMark) {
			t.Errorf("%s is not whole, or left over: %v", e.Name(), err)
		}
	}
}
