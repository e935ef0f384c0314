package preview

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/fsnotify/fsnotify"
)

// A page is told of every way in which editors save, and of what becomes of the file: with events and without.
func TestRenewal(t *testing.T) {
	for name, poll := range map[string]bool{"events": false, "poll": true} {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			file := filepath.Join(dir, "a.md")
			write(t, file, "first")
			p := follow(t, serve(t, Options{Maker: &paper{dir: dir}, Name: "a.md", poll: poll}), "")
			says := func(words string) {
				t.Helper()
				p.until("it says "+words, func(w shownWork) bool { return w.State == "good" && strings.Contains(w.says(), words) })
			}
			says("first")
			write(t, file, "second, in place")
			says("second")
			renewed(t, file, "third, by renaming")
			says("third")
			renewed(t, file, "fourth, by renaming again")
			says("fourth")
			if err := os.Rename(file, file+".bak"); err != nil {
				t.Fatal(err)
			}
			write(t, file, "fifth, the old one moved away")
			says("fifth")

			if err := os.Remove(file); err != nil {
				t.Fatal(err)
			}
			w := p.until("the file is gone", func(w shownWork) bool { return w.Gone })
			if w.State != "stale" || !strings.Contains(w.says(), "fifth") {
				t.Errorf("without the file it is %s and says %s", w.State, w.says())
			}
			write(t, file, "sixth, back again")
			says("sixth")

			write(t, file, "look at b.csv")
			p.until("the other file is missing", func(w shownWork) bool { return strings.Contains(w.says(), "no such file") })
			write(t, filepath.Join(dir, "b.csv"), "one row")
			says("one row")
			renewed(t, filepath.Join(dir, "b.csv"), "two rows")
			says("two rows")
		})
	}
}

// What lies behind a link is watched as well.
func TestRenewalBehindALink(t *testing.T) {
	dir, other := t.TempDir(), t.TempDir()
	real := filepath.Join(other, "real.md")
	write(t, real, "first")
	if err := os.Symlink(real, filepath.Join(dir, "a.md")); err != nil {
		t.Skip("no links here: a file behind one is not watched in this test")
	}
	p := follow(t, serve(t, Options{Maker: &paper{dir: dir}, Name: "a.md"}), "")
	p.until("it says first", func(w shownWork) bool { return strings.Contains(w.says(), "first") })
	renewed(t, real, "second")
	p.until("it says second", func(w shownWork) bool { return strings.Contains(w.says(), "second") })
}

// While errors stand the card of before stays, with the files it was made from.
func TestTheCardOfBeforeStays(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "a.md")
	write(t, file, "an ERROR at once")
	address := serve(t, Options{Maker: &paper{dir: dir}, Name: "a.md"})
	p := follow(t, address, "")
	w := p.until("errors stand", func(w shownWork) bool { return len(w.Findings) > 0 })
	if w.State != "none" || len(w.Cards) != 0 || w.Count != "1 error" {
		t.Errorf("it begins as %q with %d cards: %s", w.State, len(w.Cards), w.Count)
	}
	write(t, file, "line one\nline two")
	w = p.until("it is good", func(w shownWork) bool { return w.State == "good" })
	if len(w.Findings) != 0 || w.Count != "" || len(w.Before) != 0 {
		t.Errorf("a good one has %v %v %v", w.Findings, w.Count, w.Before)
	}
	write(t, file, "line one\nan ERROR\nline two")
	w = p.until("it is stale", func(w shownWork) bool { return w.State == "stale" })
	if !strings.Contains(w.says(), "line two") || w.Made == "" || len(w.Before) != 1 || len(w.Before[0].Lines) != 2 || len(w.Files[0].Lines) != 3 {
		t.Errorf("stale: %+v", w)
	}
	if len(w.Findings) != 1 {
		t.Fatalf("%d findings: one that was let pass is not shown", len(w.Findings))
	}
	f := w.Findings[0]
	want := place{File: 0, Line: 2, From: 3, Last: 2, To: 8, Words: "a.md:2:4"}
	if f.At == nil || *f.At != want || f.Why != "why part/unknown" || f.Related[0].Label != "begun" || f.Related[0].Words != "line 1: l" {
		t.Errorf("the finding is %+v at %+v", f, f.At)
	}
	if w.Explain["part/unknown"] != "all on part/unknown" {
		t.Errorf("explained as %q", w.Explain)
	}
	again := follow(t, address, "").until("another page sees the same", func(w shownWork) bool { return w.State == "stale" })
	if again.Made != w.Made || again.says() != w.says() {
		t.Error("a second page sees another card")
	}
	write(t, file, "mended")
	p.until("it is mended", func(w shownWork) bool { return w.State == "good" && strings.Contains(w.says(), "mended") })
}

// A mistake of the program itself is told, and the next save is shown again.
func TestAMistakeOfOursIsNotTheEnd(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "a.md")
	write(t, file, "first")
	maker := &paper{dir: dir}
	p := follow(t, serve(t, Options{Maker: maker, Name: "a.md"}), "")
	p.until("it says first", func(w shownWork) bool { return strings.Contains(w.says(), "first") })
	maker.stumble.Store(true)
	renewed(t, file, "second")
	p.until("it stumbled", func(w shownWork) bool { return strings.Contains(w.Wrong, "a mistake of ours") && w.Findings != nil })
	renewed(t, file, "third")
	p.until("it says third", func(w shownWork) bool { return w.State == "good" && strings.Contains(w.says(), "third") })
}

// The list of a folder follows what comes, goes, breaks and is mended in it.
func TestTheListOfAFolder(t *testing.T) {
	dir := t.TempDir()
	write(t, filepath.Join(dir, "a.md"), "one")
	address := serve(t, Options{Maker: &paper{dir: dir}})
	list := follow(t, address, "")
	until := func(want string) {
		t.Helper()
		late := time.After(long)
		for got := ""; got != want; {
			select {
			case l := <-list.list:
				got = ""
				for _, p := range l.List {
					got += p.Name + ":" + p.Worst + " "
				}
			case <-late:
				t.Fatalf("the list is never %q, but %q", want, got)
			}
		}
	}
	until("a.md: ")
	write(t, filepath.Join(dir, "b.md"), "an ERROR")
	until("a.md: b.md:error ")
	write(t, filepath.Join(dir, "b.md"), "mended")
	until("a.md: b.md: ")
	one := follow(t, address, "?p=b.md")
	one.until("it says mended", func(w shownWork) bool { return strings.Contains(w.says(), "mended") })
	if err := os.Remove(filepath.Join(dir, "b.md")); err != nil {
		t.Fatal(err)
	}
	until("a.md: ")
	one.until("it is gone", func(w shownWork) bool { return w.Gone && w.State == "stale" })

	// A name that is not in the list is not looked for on the disk.
	for _, name := range []string{"../a.md", filepath.Join(dir, "a.md"), "c.md"} {
		w := follow(t, address, "?p="+name).until("there is no such thing", func(w shownWork) bool { return w.State == "none" })
		if len(w.Files) != 0 || w.Wrong != "there is no such procedure here" {
			t.Errorf("%s: %+v", name, w)
		}
	}
}

// A burst of changes is one renewal or a few, not one each.
func TestABurstIsOneChange(t *testing.T) {
	const changes = 500
	f := bareFolders()
	f.watch([]string{"/shop/a.md"})
	events := make(chan fsnotify.Event, changes)
	for range changes {
		events <- fsnotify.Event{Name: "/shop/a.md", Op: fsnotify.Write}
	}
	go f.run(events, nil, time.Hour)
	defer f.close()
	<-f.news
	told := 1
	for len(events) > 0 {
		<-f.news
		told++
	}
	if told > changes/10 {
		t.Errorf("%d changes were told as %d", changes, told)
	}
}

// Changes beside what was read, and an editor's own files, renew nothing; new procedures in a folder that was listed do.
func TestWhichFilesMatter(t *testing.T) {
	f := bareFolders()
	f.watch([]string{"/lib/a.md", "/lib/refitcard.yaml", "/lib/sub"})
	for name, matters := range map[string]bool{
		"/lib/a.md": true, "/lib/refitcard.yaml": true, "/lib/sub/new.md": true, "/lib/sub/NEW.MD": true, "/lib/sub/../a.md": true,
		"/lib/.a.md.swp": false, "/lib/a.md~": false, "/lib/4913": false, "/lib/A-1-card.pdf": false, "/lib/b.md": false, "/lib/sub/x.pdf": false,
	} {
		if got := f.matters(fsnotify.Event{Name: name, Op: fsnotify.Create}); got != matters {
			t.Errorf("%s: %v", name, got)
		}
	}
	if f.matters(fsnotify.Event{Name: "/lib/a.md", Op: fsnotify.Chmod}) {
		t.Error("other permissions make no other card")
	}
}

// A file that is read for the first time may have been saved between its reading and its watching: it is read once more.
func TestWhatIsReadForTheFirstTimeIsReadAgain(t *testing.T) {
	f := bareFolders()
	name := filepath.Join(t.TempDir(), "a.md")
	if !f.watch([]string{name}) {
		t.Error("a file that was not watched before is not read again")
	}
	if f.watch([]string{name}) {
		t.Error("a file that was watched all the time is read again")
	}
}
