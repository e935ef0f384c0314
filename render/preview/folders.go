package preview

import (
	"os"
	"path/filepath"
	"strings"
	"sync"
	"time"

	"github.com/fsnotify/fsnotify"
)

// Settles is the longest time for which changes that follow each other are gathered before they are shown.
const Settles = 100 * time.Millisecond

// How saves are waited for. A save is several changes, of which the last counts: the first renewal comes when the files have
// been quiet for a moment, at the latest after a tenth of a second.
const (
	quiet    = 15 * time.Millisecond
	longest  = Settles
	slowPoll = 2 * time.Second        // beside events, for folders on a network that tell of none
	fastPoll = 200 * time.Millisecond // in place of events
)

// folders watches the folders of files: editors save by putting a new file in the old one's place, and what watches the file
// itself would go on looking at the old one.
type folders struct {
	news    chan struct{} // holds one value when something has changed
	watcher *fsnotify.Watcher
	stop    chan struct{}
	ended   chan struct{}
	poll    chan time.Duration

	mu     sync.Mutex
	dirs   map[string]bool
	read   map[string]bool // files, and folders whose lists were read
	stamps map[string]stamp
	links  map[string]string // what lies behind each of the files read
}

// stamp tells one state of a file from another.
type stamp struct {
	info os.FileInfo // nil when it is not there
}

func newFolders(poll bool) *folders {
	f := bareFolders()
	if !poll {
		if w, err := fsnotify.NewWatcher(); err == nil {
			f.watcher = w
		}
	}
	if f.watcher == nil {
		go f.run(nil, nil, fastPoll)
	} else {
		go f.run(f.watcher.Events, f.watcher.Errors, slowPoll)
	}
	return f
}

func bareFolders() *folders {
	return &folders{
		news: make(chan struct{}, 1), stop: make(chan struct{}), ended: make(chan struct{}), poll: make(chan time.Duration, 1),
		dirs: map[string]bool{}, read: map[string]bool{}, stamps: map[string]stamp{}, links: map[string]string{},
	}
}

func (f *folders) close() {
	close(f.stop)
	<-f.ended
	if f.watcher != nil {
		f.watcher.Close()
	}
}

// run gathers changes and passes them on when they have settled; it asks for the state of the files every so often.
func (f *folders) run(events <-chan fsnotify.Event, wrong <-chan error, every time.Duration) {
	defer close(f.ended)
	tick := time.NewTicker(every)
	defer tick.Stop()
	var first time.Time
	var settled <-chan time.Time
	note := func() {
		if settled == nil {
			first = time.Now()
		}
		settled = time.After(min(quiet, time.Until(first.Add(longest))))
	}
	for {
		select {
		case <-f.stop:
			return
		case e := <-events:
			if f.matters(e) {
				note()
			}
		case <-wrong: // events were lost
			note()
		case every := <-f.poll:
			tick.Reset(every)
		case <-tick.C:
			if f.differs() {
				note()
			}
		case <-settled:
			settled = nil
			select {
			case f.news <- struct{}{}:
			default:
			}
		}
	}
}

// matters tells whether an event is about something that was read: not about an editor's own files beside it.
func (f *folders) matters(e fsnotify.Event) bool {
	if e.Op == fsnotify.Chmod {
		return false
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	name := filepath.Clean(e.Name)
	return f.read[name] || f.read[filepath.Dir(name)] && strings.EqualFold(filepath.Ext(name), ".md")
}

// watch takes in what was read by now: absolute paths. It tells whether there is a file or a folder among them that was not
// watched while it was read: what was saved in between is not told, so it has to be read once more.
func (f *folders) watch(read []string) (grown bool) {
	f.mu.Lock()
	defer f.mu.Unlock()
	known, links := f.stamps, f.links
	f.read, f.stamps, f.links = map[string]bool{}, map[string]stamp{}, map[string]string{}
	dirs := map[string]bool{}
	for _, name := range read {
		name = filepath.Clean(name)
		old, ok := known[name]
		if !ok {
			old, grown = stampOf(name), true
		}
		real, ok := links[name]
		if !ok {
			real = behindLinks(name)
		}
		f.stamps[name], f.links[name] = old, real
		for _, at := range []string{name, real} {
			f.read[at] = true
			dirs[filepath.Dir(at)] = true
		}
		if old.info != nil && old.info.IsDir() {
			dirs[name] = true
		}
	}
	if f.watcher == nil {
		f.dirs = dirs
		return grown
	}
	return f.renew(dirs) || grown
}

// renew watches the folders that are new and lets go of those that are not wanted any more.
func (f *folders) renew(dirs map[string]bool) (grown bool) {
	for dir := range f.dirs {
		if !dirs[dir] {
			_ = f.watcher.Remove(dir) // it may have vanished, which ends the watch too
			delete(f.dirs, dir)
		}
	}
	for dir := range dirs {
		if f.dirs[dir] {
			continue
		}
		switch err := f.watcher.Add(dir); {
		case err == nil:
			f.dirs[dir], grown = true, true
		case !os.IsNotExist(err): // too many are watched already, or no events come from there
			f.hurry()
		}
	}
	return grown
}

// hurry asks for the state of the files more often from now on.
func (f *folders) hurry() {
	select {
	case f.poll <- fastPoll:
	default:
	}
}

// behindLinks gives the file that a link leads to.
func behindLinks(name string) string {
	if real, err := filepath.EvalSymlinks(name); err == nil {
		return real
	}
	if dir, err := filepath.EvalSymlinks(filepath.Dir(name)); err == nil {
		return filepath.Join(dir, filepath.Base(name))
	}
	return name
}

func stampOf(name string) stamp {
	info, err := os.Stat(name)
	if err != nil {
		return stamp{}
	}
	return stamp{info}
}

func (a stamp) same(b stamp) bool {
	if a.info == nil || b.info == nil {
		return a.info == nil && b.info == nil
	}
	return a.info.Size() == b.info.Size() && a.info.ModTime().Equal(b.info.ModTime()) && os.SameFile(a.info, b.info)
}

// stamp takes the state of all files: what is read after this is at least as new.
func (f *folders) stamp() {
	f.mu.Lock()
	defer f.mu.Unlock()
	for name, was := range f.stamps {
		if now := stampOf(name); !now.same(was) {
			f.stamps[name] = now
			delete(f.links, name) // it may lead elsewhere now
		}
	}
}

// differs tells whether a file is not as it was when it was read. A folder that has come back is watched again.
func (f *folders) differs() bool {
	f.mu.Lock()
	defer f.mu.Unlock()
	changed := false
	for name, was := range f.stamps {
		if !was.same(stampOf(name)) {
			changed = true
		}
	}
	if changed {
		f.dirs = map[string]bool{}
	}
	return changed
}
