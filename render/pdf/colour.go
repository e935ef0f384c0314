package pdf

import (
	"bytes"
	"encoding/binary"
	"math"
	"sync"
)

// profile is a colour profile (ICC.1:2001-04, version 2.1, the one that readers of any age know) that says what the red,
// green and blue of the pages are: those of IEC 61966-2-1, sRGB. It is computed from the figures of that standard, so it is
// nobody's work but ours. TestColourProfileIsSRGB has another program compare it with one of its own.
var profile = sync.OnceValue(func() stream {
	data := sRGB()
	return packed(dict{"N": integer(3)}, data)
})

// The primaries and the white of sRGB as CIE x and y (IEC 61966-2-1, table 1), and the white that profiles count from, D50,
// as X, Y, Z (ICC.1:2001-04, 6.1.4.3).
var (
	primaries = [3][2]float64{{0.64, 0.33}, {0.30, 0.60}, {0.15, 0.06}}
	white     = [2]float64{0.3127, 0.3290}
	d50       = vector{0.9642, 1, 0.8249}
)

type (
	vector [3]float64
	matrix [3]vector // rows
)

func (m matrix) times(v vector) (out vector) {
	for i, row := range m {
		out[i] = row[0]*v[0] + row[1]*v[1] + row[2]*v[2]
	}
	return out
}

// inverse is that of a matrix that has one, by its minors.
func (m matrix) inverse() (out matrix) {
	minor := func(i, j int) float64 {
		a, b, c, d := (i+1)%3, (i+2)%3, (j+1)%3, (j+2)%3
		return m[a][c]*m[b][d] - m[a][d]*m[b][c]
	}
	det := m[0][0]*minor(0, 0) + m[0][1]*minor(0, 1) + m[0][2]*minor(0, 2)
	for i := range 3 {
		for j := range 3 {
			out[j][i] = minor(i, j) / det
		}
	}
	return out
}

// light is a colour of brightness 1 as X, Y, Z.
func light(xy [2]float64) vector { return vector{xy[0] / xy[1], 1, (1 - xy[0] - xy[1]) / xy[1]} }

// cones turns X, Y, Z into the answers of the eye that are scaled from one white to another: the Bradford transform, which
// the profiles of version 4 prescribe (ICC.1:2004-10, annex E).
var cones = matrix{{0.8951, 0.2664, -0.1614}, {-0.7502, 1.7135, 0.0367}, {0.0389, -0.0685, 1.0296}}

// colourants are red, green and blue as X, Y, Z under D50.
func colourants() (out [3]vector) {
	var m matrix
	for i, p := range primaries {
		for row, v := range light(p) {
			m[row][i] = v
		}
	}
	share := m.inverse().times(light(white)) // of each primary in white
	from, to := cones.times(light(white)), cones.times(d50)
	for i := range out {
		v := cones.times(vector{m[0][i] * share[i], m[1][i] * share[i], m[2][i] * share[i]})
		for k := range v {
			v[k] *= to[k] / from[k]
		}
		out[i] = cones.inverse().times(v)
	}
	return out
}

// linear is the brightness of a value from 0 to 1 (IEC 61966-2-1, 5.2).
func linear(v float64) float64 {
	if v <= 0.04045 {
		return v / 12.92
	}
	return math.Pow((v+0.055)/1.055, 2.4)
}

// sRGB writes the profile: head, list of tags, tags (ICC.1:2001-04, 6).
func sRGB() []byte {
	fixed := func(v float64) uint32 { return uint32(int32(math.Round(v * 65536))) }
	u32 := binary.BigEndian.AppendUint32
	xyz := func(v vector) []byte {
		b := []byte("XYZ \x00\x00\x00\x00")
		for _, x := range v {
			b = u32(b, fixed(x))
		}
		return b
	}
	curve := u32([]byte("curv\x00\x00\x00\x00"), 1024)
	for i := range 1024 {
		curve = binary.BigEndian.AppendUint16(curve, uint16(math.Round(65535*linear(float64(i)/1023))))
	}
	const title = "sRGB IEC 61966-2-1\x00"
	about := u32([]byte("desc\x00\x00\x00\x00"), uint32(len(title)))
	about = append(append(about, title...), make([]byte, 4+4+2+1+67)...) // no names in other scripts
	mother := colourants()
	tags := []struct {
		name string
		data []byte
	}{
		{"desc", about},
		{"cprt", []byte("text\x00\x00\x00\x00No copyright, use freely\x00")},
		{"wtpt", xyz(d50)},
		{"rXYZ", xyz(mother[0])},
		{"gXYZ", xyz(mother[1])},
		{"bXYZ", xyz(mother[2])},
		{"rTRC", curve},
		{"gTRC", curve},
		{"bTRC", curve},
	}
	list, data := u32(nil, uint32(len(tags))), []byte{}
	start := 128 + 4 + 12*len(tags)
	at := start
	for i, t := range tags {
		if i == 0 || !bytes.Equal(t.data, tags[i-1].data) { // the three curves are one
			data = append(data, make([]byte, -len(data)&3)...)
			at = start + len(data)
			data = append(data, t.data...)
		}
		list = u32(u32(append(list, t.name...), uint32(at)), uint32(len(t.data)))
	}
	data = append(data, make([]byte, -len(data)&3)...)
	head := u32(nil, uint32(start+len(data)))
	head = append(head, "\x00\x00\x00\x00\x02\x10\x00\x00mntrRGB XYZ "...)
	head = append(head, 0x07, 0xd0, 0, 1, 0, 1, 0, 0, 0, 0, 0, 0) // the first of January 2000: the format wants a day
	head = append(head, "acsp"...)
	head = append(head, make([]byte, 68-len(head))...) // no maker, no model, to be shown as it is
	head = append(head, xyz(d50)[8:]...)
	head = append(head, make([]byte, 128-len(head))...)
	return append(append(head, list...), data...)
}
