package workbook

import (
	"archive/zip"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
)

// maxText is about how many bytes of one text are read.
const maxText = 1 << 16

// walk hands over every element of a part; style is the name of the style that it stands in.
func walk(part *zip.File, each func(d *xml.Decoder, el xml.StartElement, style string) error) error {
	r, err := part.Open()
	if err != nil {
		return fmt.Errorf("the file cannot be unpacked: %w", err)
	}
	defer r.Close() //nolint:errcheck // read only
	d := xml.NewDecoder(r)
	style := ""
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return broken(err)
		}
		el, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		if el.Name.Local == "style" {
			style = attr(el, "name")
		}
		if err := each(d, el, style); err != nil {
			return err
		}
	}
}

// within reads the element that was begun up to its end. Start gets each element in it, and says whether it has read that
// one to its end itself. Text, which may be nil, gets the texts: in is the element that began last, empty behind the end of
// one, and depth says how many elements stand around the text.
func within(d *xml.Decoder, start func(xml.StartElement) (read bool, err error), text func(in string, depth int, s []byte)) error {
	in, depth := "", 0
	for {
		token, err := d.Token()
		if err != nil {
			return broken(err)
		}
		switch el := token.(type) {
		case xml.StartElement:
			read, err := start(el)
			if err != nil {
				return err
			}
			if in = ""; !read {
				in, depth = el.Name.Local, depth+1
			}
		case xml.EndElement:
			if depth == 0 {
				return nil
			}
			in, depth = "", depth-1
		case xml.CharData:
			if text != nil {
				text(in, depth, el)
			}
		}
	}
}

// skip reads the element that was begun up to its end.
func skip(d *xml.Decoder) error {
	if err := d.Skip(); err != nil {
		return broken(err)
	}
	return nil
}

func attr(el xml.StartElement, name string) string {
	for _, a := range el.Attr {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

func broken(err error) error {
	if errors.Is(err, io.EOF) {
		err = io.ErrUnexpectedEOF
	}
	return fmt.Errorf("the file is broken (%w); open it and save it again, or save it as CSV", err)
}

func tooWide(row string, columns int) error {
	return fmt.Errorf("%s has %d columns; an exam has not so many", row, columns)
}
