package raster

import "stopleaf/render/internal/xmp"

// about is what the metadata say of a page: of the setup that it shows where
// the document has several, else of the document. The date is the day alone,
// as it was written down. The colour space is Exif's number for sRGB, Exif
// 2.31, CIPA DC-008, tag A001.
func (w *Writer) about(page int, format string) xmp.About {
	p := &w.doc.Pages[page]
	a := xmp.About{
		Format: format, Title: firstOf(p.Title, w.doc.Title), Description: firstOf(p.Desc, w.doc.Subject),
		Author: w.doc.Author, Keywords: w.doc.Keywords, Created: w.doc.Created, Lang: w.doc.Lang,
		Spaces: ` xmlns:exif="http://ns.adobe.com/exif/1.0/"`,
		More:   "<exif:ColorSpace>1</exif:ColorSpace>\n",
	}
	if p.About != nil {
		a.Author, a.Keywords, a.Created = p.About.Author, p.About.Keywords, p.About.Created
	}
	for _, s := range p.Sources {
		a.Setups = append(a.Setups, s.Text())
	}
	return a
}

func firstOf(list ...string) string {
	for _, s := range list {
		if s != "" {
			return s
		}
	}
	return ""
}
