package main

import (
	"bytes"
	"fmt"
	"strings"
	"time"

	"refitcard/compiler/report"
	"refitcard/compiler/source"
)

// progress shows done, all and the name at work, on a terminal and only for work of over a second.
type progress struct {
	s     *session
	all   int
	n     int
	begun time.Time
	shown bool
}

func (s *session) progress(all int) *progress {
	return &progress{s: s, all: all, begun: time.Now()}
}

func (p *progress) step(name string) {
	p.n++
	width := p.s.Width(p.s.Err)
	if p.s.opt.quiet || width == 0 || time.Since(p.begun) < time.Second {
		return
	}
	line := []rune(fmt.Sprintf("%d / %d  %s", p.n, p.all, source.Plain(name)))
	line = line[:min(len(line), width-1)]
	for source.Width(string(line)) >= width {
		line = line[:len(line)-1]
	}
	fmt.Fprintf(p.s.Err, "\r%s%s", string(line), strings.Repeat(" ", width-1-source.Width(string(line))))
	p.shown = true
}

func (p *progress) done() {
	if p.shown {
		fmt.Fprintf(p.s.Err, "\r%s\r", strings.Repeat(" ", p.s.Width(p.s.Err)-1))
	}
}

// rendered gives a report as bytes, so that a failure leaves nothing half-written.
func rendered(f report.Format, r report.Results) ([]byte, error) {
	var b bytes.Buffer
	err := f.Write(&b, r)
	return b.Bytes(), err
}
