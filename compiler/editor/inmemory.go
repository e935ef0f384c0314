package editor

import (
	"bytes"
	"io/fs"
	"path"
	"time"
)

// inMemory is an open file that lies in memory.
type inMemory struct {
	*bytes.Reader
	info fs.FileInfo
}

func (f inMemory) Stat() (fs.FileInfo, error) { return f.info, nil }
func (f inMemory) Close() error               { return nil }

// written tells of a file that is being written.
type written struct {
	name string
	size int64
}

func (w written) Name() string       { return path.Base(w.name) }
func (w written) Size() int64        { return w.size }
func (w written) Mode() fs.FileMode  { return 0o644 }
func (w written) ModTime() time.Time { return time.Time{} }
func (w written) IsDir() bool        { return false }
func (w written) Sys() any           { return nil }
