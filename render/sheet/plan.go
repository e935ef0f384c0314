package sheet

import (
	"math"
	"slices"

	"refitcard/render/document"
	"refitcard/render/faces"
)

// drawn is a layout of fasteners at its size on the page.
type drawn struct {
	w, h   float64
	r      float64 // radius of a fastener
	places []spot
	part   string
}

type spot struct {
	x, y  float64
	order int
}

// edge is how far the outline of the part stands off the fasteners, in mm.
const edge = 2.4

// plan sizes a drawing: fasteners keep their distance, and the whole fits the room. It takes up to six tenths of a page's height; as
// much as there is below the words of its act, where its numbers could not be read otherwise. One whose numbers are too small even
// so does not fit on the paper.
func (l *layout) plan(b document.Layout, room float64) drawn {
	d := l.planWithin(b, room, l.room()*0.6)
	if l.numberIn(d) < l.label() {
		d = l.planWithin(b, room, l.room()-2*l.m.lead-3.6*l.m.u)
	}
	if l.opt.Distance > 0 && len(d.places) > 0 && d.r*2/millimetre*0.8 < faces.SizeFor(l.opt.Distance, labelArc)-0.01 {
		d.h = 2 * l.room() // it fits on no page: numbers that can't be read are worse than no card
	}
	return d
}

// numberIn is the size in points of the numbers in the fasteners of a drawing.
func (l *layout) numberIn(d drawn) float64 {
	across := d.r * 2 / millimetre
	return min(max(0.93*l.m.s, l.label()), max(across*0.62, min(across*0.8, l.label())))
}

func (l *layout) planWithin(b document.Layout, room, most float64) drawn {
	d := drawn{r: 3.3 * l.m.u, part: b.Part}
	if len(b.Places) == 0 {
		return d
	}
	minX, minY, maxX, maxY := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	near := math.Inf(1)
	for i, p := range b.Places {
		x, y := float64(p.X), float64(p.Y)*2 // a line is twice as high as a character is wide
		minX, maxX, minY, maxY = min(minX, x), max(maxX, x), min(minY, y), max(maxY, y)
		for _, q := range b.Places[:i] {
			if dist := math.Hypot(x-float64(q.X), y-float64(q.Y)*2); dist > 0 {
				near = min(near, dist)
			}
		}
	}
	if math.IsInf(near, 1) {
		near = 1
	}
	scale := (2*d.r + 2.2*l.m.u) / near
	if wide := (maxX - minX) * scale; wide > 0 && wide+2*(d.r+edge) > room {
		scale = (room - 2*(d.r+edge)) / (maxX - minX)
		d.r = min(d.r, near*scale*0.42)
	}
	if most := most - 2*(d.r+edge); (maxY-minY)*scale > most {
		scale = most / (maxY - minY)
		d.r = min(d.r, near*scale*0.42)
	}
	off := d.r + edge
	for _, p := range b.Places {
		d.places = append(d.places, spot{(float64(p.X)-minX)*scale + off, (float64(p.Y)*2-minY)*scale + off, p.Order})
	}
	d.w, d.h = (maxX-minX)*scale+2*off, (maxY-minY)*scale+2*off
	return d
}

// outline is the hull of the fasteners, set off by a distance, its corners cut.
func outline(places []spot, off float64) []Point {
	cloud := make([]Point, 0, 8*len(places))
	for _, p := range places {
		for k := range 8 {
			a := (float64(k) + 0.5) * math.Pi / 4
			r := off / math.Cos(math.Pi/8)
			cloud = append(cloud, Point{p.x + r*math.Cos(a), p.y + r*math.Sin(a)})
		}
	}
	slices.SortFunc(cloud, func(a, b Point) int {
		if a.X != b.X {
			if a.X < b.X {
				return -1
			}
			return 1
		}
		if a.Y < b.Y {
			return -1
		}
		return 1
	})
	half := func(points []Point) []Point {
		var h []Point
		for _, p := range points {
			for len(h) >= 2 && cross(h[len(h)-2], h[len(h)-1], p) <= 0 {
				h = h[:len(h)-1]
			}
			h = append(h, p)
		}
		return h[:len(h)-1]
	}
	lower := half(cloud)
	slices.Reverse(cloud)
	return append(lower, half(cloud)...)
}

func cross(o, a, b Point) float64 { return (a.X-o.X)*(b.Y-o.Y) - (a.Y-o.Y)*(b.X-o.X) }

// drawPlan draws outline, fasteners with their numbers, number 1 ringed, 6 and 9 underlined, and which way is up.
func (l *layout) drawPlan(c *canvas, d drawn, x, y float64) {
	c.box("layout", x, y, d.w, d.h, d.part)
	hull := outline(d.places, d.r+edge)
	points := make([]Point, len(hull))
	for i, p := range hull {
		points[i] = Point{c.left + x + p.X, y + p.Y}
	}
	if len(points) > 2 {
		c.op(Polygon{Points: points, Stroke: 1, Round: 1})
	}
	size := l.numberIn(d)
	for _, p := range d.places {
		pen := 1.0
		if p.order == 1 {
			pen = 2.6
		}
		c.op(Circle{X: c.left + x + p.x, Y: y + p.y, R: d.r, Stroke: pen, Filled: true, Fill: Colour{255, 255, 255}})
		if p.order == 0 {
			continue
		}
		c.box("place", x+p.x-d.r, y+p.y-d.r, 2*d.r, 2*d.r, itoa(p.order))
		base := y + p.y + capHeight(size)/2
		c.wordsMiddle(ink{face: Bold, size: size}, x+p.x, base, itoa(p.order))
		if p.order == 6 || p.order == 9 {
			w := textWidth(Bold, "6", size)
			c.rule(x+p.x-w/2, x+p.x+w/2, base+0.6, 0.75, Colour{})
		}
	}
	l.upMark(c, d, x, y)
}

// upMark says which way is up and names the part, where the middle of the drawing is free for it.
func (l *layout) upMark(c *canvas, d drawn, x, y float64) {
	size := l.m.caption
	lines := []string{"TOP", d.part}
	w := max(textWidth(Bold, lines[0], size), textWidth(Regular, lines[1], size))
	h := 2*size*1.3*millimetre + 3
	cx, cy := d.w/2, d.h/2
	for _, p := range d.places {
		if math.Abs(p.x-cx) < w/2+d.r && math.Abs(p.y-cy) < h/2+d.r {
			return
		}
	}
	top := y + cy - h/2
	c.shape(Colour{}, x+cx, top, x+cx+1.6, top+2.4, x+cx-1.6, top+2.4)
	base := top + 3.2 + capHeight(size)
	c.wordsMiddle(ink{face: Bold, size: size}, x+cx, base, lines[0])
	c.wordsMiddle(ink{size: size}, x+cx, base+size*1.3*millimetre, lines[1])
}
