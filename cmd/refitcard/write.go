package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
)

// writeWhole puts data at name whole or not at all: into a file beside it, synced, then renamed.
// What stood there before stays when anything goes wrong.
func writeWhole(name string, data []byte) error {
	if info, err := os.Lstat(name); err == nil && info.Mode()&os.ModeSymlink != 0 {
		// A link stays a link: the file that it points to is renewed.
		if real, err := filepath.EvalSymlinks(name); err == nil {
			name = real
		}
	}
	f, err := os.CreateTemp(filepath.Dir(name), ".refitcard-*")
	if err != nil {
		return fmt.Errorf("can't write %q: %w", name, rootCause(err))
	}
	_, err = f.Write(data)
	if err == nil {
		err = f.Sync()
	}
	if err == nil {
		err = f.Chmod(permissions(name))
	}
	if closed := f.Close(); err == nil {
		err = closed
	}
	if err == nil {
		err = os.Rename(f.Name(), name)
	}
	if err != nil {
		os.Remove(f.Name())
		return fmt.Errorf("can't write %q: %w", name, rootCause(err))
	}
	return nil
}

// permissions keeps those of a file that stands there, else gives the usual ones.
func permissions(name string) os.FileMode {
	if info, err := os.Stat(name); err == nil {
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
	if o.taken[name] {
		return "", usageError{fmt.Sprintf("two procedures would both write %q", name), "give each its own number, or make them one at a time"}
	}
	o.taken[name] = true
	return name, writeWhole(name, data)
}
