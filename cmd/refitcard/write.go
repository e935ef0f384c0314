package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
)

// tempMark begins the name of a file that is being written. One that a killed run left behind is taken away by the next run
// that writes into the folder: see sweep.
const tempMark = ".refitcard-"

// writeNamed puts data at a name that somebody typed, whole or not at all. A link stays a link: the file that it points to is
// renewed. A pipe or a device, such as /dev/null, is written to as it stands.
func (s *session) writeNamed(name string, data []byte) error {
	info, err := os.Lstat(name)
	if err == nil && info.Mode()&os.ModeSymlink != 0 {
		real, err := filepath.EvalSymlinks(name)
		if err != nil {
			return fmt.Errorf("can't write %q: it is a link to a place that is not there", name)
		}
		name = real
		info, err = os.Lstat(name)
		if err != nil {
			return fmt.Errorf("can't write %q: %w", name, rootCause(err))
		}
	}
	if err == nil && !info.IsDir() && !info.Mode().IsRegular() {
		return writeThrough(name, data)
	}
	return s.writeWhole(name, data)
}

// writeThrough writes to what is no file and so can't be replaced by one.
func writeThrough(name string, data []byte) error {
	f, err := os.OpenFile(name, os.O_WRONLY, 0)
	if err == nil {
		_, err = f.Write(data)
		if closed := f.Close(); err == nil {
			err = closed
		}
	}
	if err != nil {
		return fmt.Errorf("can't write %q: %w", name, rootCause(err))
	}
	return nil
}

// writeWhole puts data at name whole or not at all: into a file beside it, synced, then renamed. What stood there before stays
// when anything goes wrong. A link in its place is replaced, never followed: the name may come from a document.
func (s *session) writeWhole(name string, data []byte) error {
	if info, err := os.Lstat(name); err == nil && !info.Mode().IsRegular() && info.Mode()&os.ModeSymlink == 0 {
		return fmt.Errorf("can't write %q: what stands there is no file", name)
	}
	mode := permissions(name)
	return s.write(name, data, mode, func(temp string) error { return os.Rename(temp, name) })
}

// writeNew puts data at a name whole or not at all, and only if nothing stands there.
func (s *session) writeNew(name string, data []byte) error {
	s.sweep(filepath.Dir(name))
	taken := usageError{fmt.Sprintf("%q is there already and stays as it is", name), "choose another name"}
	if _, err := os.Lstat(name); err == nil {
		return taken
	}
	err := s.write(name, data, 0o644, func(temp string) error {
		err := os.Link(temp, name)
		if err != nil && !errors.Is(err, fs.ErrExist) {
			// Some disks know no second name for a file. There the name can be taken by somebody else at this very moment.
			return os.Rename(temp, name)
		}
		return errors.Join(err, os.Remove(temp))
	})
	if errors.Is(err, fs.ErrExist) {
		return taken
	}
	return err
}

// write fills a file beside name, hands it to place, which gives it its name, and takes it away when anything goes wrong.
func (s *session) write(name string, data []byte, mode os.FileMode, place func(temp string) error) error {
	s.sweep(filepath.Dir(name))
	temp, err := newTemp(filepath.Dir(name))
	if err == nil {
		if err = filled(temp, data, mode, place); err != nil {
			temp.Close()
			os.Remove(temp.Name())
		}
	}
	if err != nil {
		return fmt.Errorf("can't write %q: %w", name, rootCause(err))
	}
	return nil
}

// filled writes a file, brings it to the disk and places it. It is held until it has its name, save on Windows, where an open
// file can't get another one.
func filled(temp *os.File, data []byte, mode os.FileMode, place func(temp string) error) error {
	if _, err := temp.Write(data); err != nil {
		return err
	}
	if err := temp.Chmod(mode); err != nil {
		return err
	}
	if err := temp.Sync(); err != nil {
		return err
	}
	if runtime.GOOS == "windows" {
		if err := temp.Close(); err != nil {
			return err
		}
		return place(temp.Name())
	}
	if err := place(temp.Name()); err != nil {
		return err
	}
	return temp.Close()
}

// newTemp makes the file that is filled before it gets its name. It is held as long as it is open, so that no other run takes
// it for one that was left behind; a run that swept in the moment before it was held took it away, and another is made.
func newTemp(dir string) (*os.File, error) {
	for {
		f, err := os.CreateTemp(dir, tempMark+"*")
		if err != nil {
			return nil, err
		}
		hold(f)
		mine, err1 := f.Stat()
		there, err2 := os.Lstat(f.Name())
		if err1 == nil && err2 == nil && os.SameFile(mine, there) {
			return f, nil
		}
		f.Close()
		if !errors.Is(err2, fs.ErrNotExist) {
			os.Remove(f.Name())
			return nil, errors.Join(err1, err2)
		}
	}
}

// sweep takes away what killed runs left in a folder: files that nobody holds any more. It looks once a run.
func (s *session) sweep(dir string) {
	if s.swept[dir] {
		return
	}
	if s.swept == nil {
		s.swept = map[string]bool{}
	}
	s.swept[dir] = true
	entries, err := os.ReadDir(dir)
	if err != nil {
		return // the write itself will tell
	}
	for _, e := range entries {
		if strings.HasPrefix(e.Name(), tempMark) && e.Type().IsRegular() {
			removeUnheld(filepath.Join(dir, e.Name()))
		}
	}
}

// permissions keeps those of a file that stands there, else gives the usual ones.
func permissions(name string) os.FileMode {
	if info, err := os.Lstat(name); err == nil && info.Mode().IsRegular() {
		return info.Mode().Perm()
	}
	return 0o644
}

// rootCause drops the name of the temporary file, which tells nobody anything.
func rootCause(err error) error {
	if p, ok := err.(*os.PathError); ok {
		return p.Err
	}
	if l, ok := err.(*os.LinkError); ok {
		return l.Err
	}
	return err
}

// outputs knows where outputs go: -o may be a file, a folder, or - for standard output.
type outputs struct {
	s     *session
	many  bool            // more than one output: -o must be a folder
	taken map[string]bool // names written in this run
}

func (s *session) outputs(many bool) (*outputs, error) {
	o := &outputs{s, many, map[string]bool{}}
	switch out := s.opt.out; {
	case out == "" || out == "-":
	case endsInSeparator(out):
		if err := os.MkdirAll(out, 0o755); err != nil {
			return nil, fmt.Errorf("can't make the folder %q: %w", out, rootCause(err))
		}
	case many && !isFolder(out):
		return nil, usageError{fmt.Sprintf("several outputs can't go into the one file %q", out), "name a folder: -o " + out + "/"}
	}
	return o, nil
}

func endsInSeparator(s string) bool {
	return s != "" && os.IsPathSeparator(s[len(s)-1])
}

func isFolder(name string) bool {
	info, err := os.Stat(name)
	return err == nil && info.IsDir()
}

// put writes one output; dir is where it stands when -o says nothing. It gives the name it was written to.
func (o *outputs) put(dir, base string, data []byte) (string, error) {
	out := o.s.opt.out
	if out == "-" {
		_, err := io.Copy(o.s.Out, bytes.NewReader(data))
		return "-", err
	}
	name := out
	switch {
	case out == "":
		name = filepath.Join(dir, base)
	case o.many || endsInSeparator(out) || isFolder(out):
		name = filepath.Join(out, base)
	}
	key := strings.ToLower(name) // on some disks A and a are one name
	if o.taken[key] {
		return "", usageError{fmt.Sprintf("two procedures would both write %q", name), "give each its own number, or make them one at a time"}
	}
	o.taken[key] = true
	if name == out { // typed, not made up from what the document says
		return name, o.s.writeNamed(name, data)
	}
	return name, o.s.writeWhole(name, data)
}
