package pdf

import (
	"crypto/md5"
	"crypto/sha256"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"refitcard/render/sheet"
)

// producer names the program in a file's properties, without a version: a new one must not change a card.
const producer = "refitcard"

// finisher writes the file. It numbers the objects in the order in which it meets them: what fpdf packed comes in an order
// that can change from run to run.
type finisher struct {
	out   output
	in    *file       // what fpdf made of the pictures, nil without any
	moved map[ref]ref // from a number in that file to one in ours
}

func finish(drawn *drawing, d *sheet.Document) ([]byte, error) {
	f := &finisher{}
	f.out.objects = make([]any, 0, len(drawn.marks)+64)
	root, tree := f.out.reserve(), f.out.reserve()
	pages, err := f.pages(tree, d, drawn)
	if err != nil {
		return nil, err
	}
	catalog := dict{
		"Type": name("Catalog"), "Pages": tree,
		"MarkInfo":          dict{"Marked": word("true")},
		"ViewerPreferences": dict{"DisplayDocTitle": word("true")},
		"StructTreeRoot":    structure(&f.out, drawn.marks, pages, d.Height),
		"Metadata":          f.metadata(d),
		"OutputIntents": array{dict{
			"Type": name("OutputIntent"), "S": name("GTS_PDFA1"), "OutputConditionIdentifier": words("sRGB"),
			"Info": words("sRGB IEC 61966-2-1"), "DestOutputProfile": f.out.add(profile()),
		}},
	}
	if d.Language != "" {
		catalog["Lang"] = textString(d.Language)
	}
	if len(d.Bookmarks) > 0 {
		if catalog["Outlines"], err = f.bookmarks(d, pages); err != nil {
			return nil, err
		}
	}
	if len(d.Attachments) > 0 {
		names, files := f.attachments(d.Attachments)
		catalog["Names"] = dict{"EmbeddedFiles": dict{"Names": names}}
		catalog["AF"] = files
	}
	f.out.set(root, catalog)
	info := dict{"Title": textString(d.Title), "Producer": textString(producer)}
	if s := subject(d); s != "" {
		info["Subject"] = textString(s)
	}
	return f.out.bytes(root, f.out.add(info), func(b []byte) []byte {
		sum := sha256.Sum256(b)
		return sum[:16]
	}), nil
}

// subject is the number and revision of a sheet in one string.
func subject(d *sheet.Document) string { return strings.TrimSpace(d.Number + " " + d.Revision) }

// pages writes the pages, which share one dictionary of fonts and pictures.
func (f *finisher) pages(tree ref, d *sheet.Document, drawn *drawing) (refs, error) {
	resources, err := f.resources(drawn)
	if err != nil {
		return nil, err
	}
	pages := make(refs, 0, len(drawn.pages))
	for n, content := range drawn.pages {
		r := f.out.add(dict{
			"Type": name("Page"), "Parent": tree, "Resources": resources, "Contents": f.out.add(deflated(nil, content)),
			"MediaBox":      array{word("0"), word("0"), decimal(d.Width * pointsPerMM), decimal(d.Height * pointsPerMM)},
			"StructParents": integer(n), "Tabs": name("S"),
		})
		pages = append(pages, r)
	}
	f.out.set(tree, dict{"Type": name("Pages"), "Kids": pages, "Count": integer(len(pages))})
	return pages, nil
}

// resources writes the fonts and copies the pictures that the pages use.
func (f *finisher) resources(drawn *drawing) (ref, error) {
	out := dict{}
	if fonts := f.out.fonts(drawn.fonts); len(fonts) > 0 {
		out["Font"] = fonts
	}
	if drawn.album.pdf != nil {
		in, pictures, err := drawn.album.open()
		if err != nil {
			return 0, err
		}
		f.in, f.moved = in, map[ref]ref{}
		copied := dict{}
		for i, p := range pictures {
			if copied[name("P"+strconv.Itoa(i+1))], err = f.copy(p); err != nil {
				return 0, err
			}
		}
		out["XObject"] = copied
	}
	return f.out.add(out), nil
}

// copy takes a value over, and all that it refers to.
func (f *finisher) copy(v any) (any, error) {
	var err error
	switch v := v.(type) {
	case ref:
		if to, ok := f.moved[v]; ok {
			return to, nil
		}
		to := f.out.reserve()
		f.moved[v] = to
		old, err := f.in.get(v)
		if err != nil {
			return nil, err
		}
		made, err := f.copy(old)
		f.out.set(to, made)
		return to, err
	case array:
		out := make(array, len(v))
		for i, x := range v {
			if out[i], err = f.copy(x); err != nil {
				return nil, err
			}
		}
		return out, nil
	case dict:
		out := dict{}
		for _, k := range slices.Sorted(maps.Keys(v)) {
			if out[k], err = f.copy(v[k]); err != nil {
				return nil, err
			}
		}
		return out, nil
	case stream:
		d, err := f.copy(v.dict)
		if err != nil {
			return nil, err
		}
		if _, packed := v.dict["Filter"]; packed {
			return stream{d.(dict), v.data}, nil
		}
		return packed(d.(dict), v.data), nil
	}
	return v, nil
}

// packed makes a deflated stream.
func packed(d dict, data []byte) stream {
	p := getPacker()
	defer p.rest()
	return deflated(d, p.deflate(data))
}

// deflated makes a stream of what is packed already.
func deflated(d dict, data []byte) stream {
	if d == nil {
		d = dict{}
	}
	d["Filter"] = name("FlateDecode")
	return stream{d, data}
}

func (f *finisher) stream(d dict, data []byte) ref { return f.out.add(packed(d, data)) }

func (f *finisher) bookmarks(d *sheet.Document, pages []ref) (ref, error) {
	root := f.out.reserve()
	var items []ref
	for range d.Bookmarks {
		items = append(items, f.out.reserve())
	}
	for i, b := range d.Bookmarks {
		if b.Page < 0 || b.Page >= len(pages) {
			return 0, fmt.Errorf("the bookmark %q leads to page %d, and there are %d", b.Title, b.Page+1, len(pages))
		}
		if !finite(b.Y) {
			return 0, outOfReach(fmt.Sprintf("the bookmark %q", b.Title), b.Y)
		}
		item := dict{"Title": textString(b.Title), "Parent": root, "Dest": array{
			pages[b.Page], name("XYZ"), word("null"), decimal((d.Height - b.Y) * pointsPerMM), word("null"),
		}}
		if i > 0 {
			item["Prev"] = items[i-1]
		}
		if i+1 < len(items) {
			item["Next"] = items[i+1]
		}
		f.out.set(items[i], item)
	}
	f.out.set(root, dict{
		"Type": name("Outlines"), "First": items[0], "Last": items[len(items)-1], "Count": integer(len(items)),
	})
	return root, nil
}

// attachments puts files inside; it gives the list of keys and files that leads to them, and the files alone.
func (f *finisher) attachments(list []sheet.Attachment) (names, files array) {
	for i, a := range list {
		d := dict{"Type": name("EmbeddedFile"), "Params": dict{
			"Size": integer(len(a.Data)), "CheckSum": checksum(a.Data),
		}}
		if a.Type != "" {
			d["Subtype"] = name(a.Type)
		}
		content := f.stream(d, a.Data)
		spec := f.out.add(dict{
			"Type": name("Filespec"), "F": textString(a.Name), "UF": textString(a.Name),
			"Desc": textString(a.Description), "EF": dict{"F": content, "UF": content},
			"AFRelationship": relationship(a.Type),
		})
		files = append(files, spec)
		names = append(names, words(fmt.Sprintf("%04d", i)), spec) // keys have to rise: the names of the files need not
	}
	return names, files
}

// relationship says what a file inside is to the pages (ISO 19005-3, 6.8; ISO 32000-2, 7.11.3, both from memory): what they
// were made from, or the data that they show.
func relationship(mime string) name {
	switch mime {
	case "text/markdown":
		return "Source"
	case "application/json":
		return "Data"
	}
	return "Unspecified"
}

// checksum is what the format asks for beside a file inside; it guards against accidents, not against people.
func checksum(data []byte) words {
	sum := md5.Sum(data)
	return words(sum[:])
}
