package preview

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"time"
)

// view is what one kind of page shows: a procedure, or the list of them under the empty name.
type view struct {
	name   string
	pages  map[chan []byte]bool // each holds the newest state that its page has not read
	fresh  bool                 // made since the last change
	state  []byte               // what was sent last
	missed bool                 // the file was gone when it was looked for last
	good   *goodCards           // drawn when last no error stood
	read   []string
}

// join gives a page its news, what stands first.
func (s *server) join(name string) (news chan []byte, leave func(), ok bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	all := 0
	for _, v := range s.views {
		all += len(v.pages)
	}
	if all >= mostPages {
		return nil, nil, false
	}
	v := s.views[name]
	if v == nil {
		v = &view{name: name, pages: map[chan []byte]bool{}}
		s.views[name] = v
	}
	news = make(chan []byte, 1)
	v.pages[news] = true
	if v.fresh && v.state != nil {
		news <- v.state
	} else {
		s.ask()
	}
	return news, func() {
		s.mu.Lock()
		defer s.mu.Unlock()
		delete(v.pages, news)
		if len(v.pages) == 0 && !s.known(v) {
			delete(s.views, name)
		}
	}, true
}

// known tells whether a view is worth keeping when nobody looks: a name that somebody made up is not.
func (s *server) known(v *view) bool { return v.good != nil || v.name == s.opt.Name }

// ask wakes the worker.
func (s *server) ask() {
	select {
	case s.wake <- struct{}{}:
	default:
	}
}

// again is how long after a file has vanished it is looked for once more: an editor may be putting a new one in its place.
const again = 250 * time.Millisecond

// work makes what is looked at, whenever something has changed, until ctx ends.
func (s *server) work(ctx context.Context) {
	f := newFolders(s.opt.poll)
	defer f.close()
	for {
		retry := s.makeAll(f)
		var late <-chan time.Time
		if retry {
			late = time.After(again)
		}
		select {
		case <-ctx.Done():
			return
		case <-s.wake:
		case <-f.news:
			s.stale()
		case <-late:
			s.stale()
		}
	}
}

// stale marks all views as older than the files.
func (s *server) stale() {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, v := range s.views {
		v.fresh = false
	}
}

// makeAll makes the views that somebody looks at, procedures before the list, and watches what they were made from. It
// tells whether a file that has vanished is to be looked for again.
func (s *server) makeAll(f *folders) (retry bool) {
	for grown := true; grown; {
		f.stamp()
		s.opt.Maker.Anew()
		for _, v := range s.wanted() {
			retry = s.make(v) || retry
		}
		// What is watched only from now on may have changed since it was read: once more.
		if grown = f.watch(s.readBy()); grown {
			s.stale()
		}
	}
	return retry
}

// wanted gives the views that are looked at and not fresh.
func (s *server) wanted() []*view {
	s.mu.Lock()
	defer s.mu.Unlock()
	var all []*view
	for _, v := range s.views {
		if !v.fresh && len(v.pages) > 0 {
			all = append(all, v)
		}
	}
	slices.SortFunc(all, func(a, b *view) int { // the list has the empty name, and comes last
		if (a.name == "") != (b.name == "") {
			return len(b.name) - len(a.name)
		}
		return bytes.Compare([]byte(a.name), []byte(b.name))
	})
	return all
}

// readBy lists what all views were made from.
func (s *server) readBy() []string {
	s.mu.Lock()
	defer s.mu.Unlock()
	var all []string
	for _, v := range s.views {
		all = append(all, v.read...)
	}
	slices.Sort(all)
	return slices.Compact(all)
}

// make makes one view and sends it to its pages.
func (s *server) make(v *view) (retry bool) {
	shown, read, retry := s.shownOn(v)
	if retry {
		s.remember(v, read)
		return true
	}
	state, err := json.Marshal(shown)
	if err != nil {
		panic(err) // plain data can always be written
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	v.fresh, v.read = true, read
	if bytes.Equal(state, v.state) {
		return false
	}
	v.state = state
	for news := range v.pages {
		select {
		case <-news: // what it has not read is out of date
		default:
		}
		news <- state
	}
	return false
}

// shownOn makes what a view puts up. A mistake of the program itself is told on the page: the next save may be free of it.
func (s *server) shownOn(v *view) (shown any, read []string, retry bool) {
	defer func() {
		if r := recover(); r != nil {
			shown = nothing(v, fmt.Sprintf("the program stumbled (%v): please report what you did", r))
			read = append(read, v.read...) // what it was made from before is watched on
		}
	}()
	if v.name == "" {
		list, read := s.list()
		return list, read, false
	}
	work, ok := s.workOn(v)
	read = work.Read
	if work.Gone && !v.missed {
		v.missed = true
		return nil, read, true
	}
	v.missed = work.Gone
	if !ok {
		return nothing(v, "there is no such procedure here"), read, false
	}
	return s.show(v, work), read, false
}

// remember takes a view as made although nothing of it is sent.
func (s *server) remember(v *view, read []string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	v.fresh, v.read = true, read
}

// workOn makes the work on a procedure; one that is not among those watched is not looked for on the disk.
func (s *server) workOn(v *view) (Work, bool) {
	if s.opt.Name == "" {
		names, read, err := s.opt.Maker.Names()
		if err != nil || !slices.Contains(names, v.name) {
			return Work{Read: append(read, v.read...), Gone: v.state != nil}, v.state != nil
		}
	}
	return s.opt.Maker.Make(v.name), true
}
