package library

import (
	"bytes"
	"errors"
	"io"
	"io/fs"
)

// ReadFile reads a file of a library, at most limit bytes of it; a longer one is cut there, which the stage that reads it
// reports. A folder, a pipe or a device is no file: to open one could wait for ever.
func ReadFile(fsys fs.FS, name string, limit int64) ([]byte, error) {
	info, err := fs.Stat(fsys, name)
	switch {
	case err != nil:
		return nil, err
	case info.IsDir():
		return nil, &fs.PathError{Op: "read", Path: name, Err: errors.New("is a folder")}
	case !info.Mode().IsRegular():
		return nil, &fs.PathError{Op: "read", Path: name, Err: errors.New("is no file")}
	}
	f, err := fsys.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	var all bytes.Buffer
	all.Grow(int(min(max(info.Size(), 0), limit)) + bytes.MinRead) // read in one go
	_, err = all.ReadFrom(io.LimitReader(f, limit))
	return all.Bytes(), err
}
