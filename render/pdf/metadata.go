package pdf

import (
	"bytes"
	"encoding/xml"

	"refitcard/render/sheet"
)

// metadata writes title, language and number as XMP (ISO 16684-1), unpacked as the format advises. The file holds no
// times, so that the same sheet gives the same bytes.
func (f *finisher) metadata(d *sheet.Document) ref {
	escape := func(s string) string {
		var b bytes.Buffer
		_ = xml.EscapeText(&b, []byte(s)) // a buffer takes all that is written
		return b.String()
	}
	language := d.Language
	if language == "" {
		language = "x-default"
	}
	text := `<?xpacket begin="` + "\ufeff" + `" id="W5M0MpCehiHzreSzNTczkc9d"?>
<x:xmpmeta xmlns:x="adobe:ns:meta/">
<rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">
<rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:pdf="http://ns.adobe.com/pdf/1.3/">
<dc:format>application/pdf</dc:format>
<dc:title><rdf:Alt><rdf:li xml:lang="x-default">` + escape(d.Title) + `</rdf:li></rdf:Alt></dc:title>
<dc:description><rdf:Alt><rdf:li xml:lang="x-default">` + escape(subject(d)) + `</rdf:li></rdf:Alt></dc:description>
<dc:language><rdf:Bag><rdf:li>` + escape(language) + `</rdf:li></rdf:Bag></dc:language>
<pdf:Producer>` + producer + `</pdf:Producer>
</rdf:Description>
</rdf:RDF>
</x:xmpmeta>
<?xpacket end="r"?>`
	return f.out.add(stream{dict{"Type": name("Metadata"), "Subtype": name("XML")}, []byte(text)})
}
