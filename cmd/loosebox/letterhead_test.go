package main

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/report"
	"loosebox/exam/report/html"
	"loosebox/exam/report/pdf"
)

// laced is a PNG of one pixel that says that it is interlaced (W3C PNG: the last byte of IHDR); of one pixel both ways of
// writing are the same.
func laced(b []byte) []byte {
	b = bytes.Clone(b)
	b[28] = 1
	binary.BigEndian.PutUint32(b[29:], crc32.ChecksumIEEE(b[12:29]))
	return b
}

// Whatever PNG or JPEG a practice has becomes a letterhead that both kinds of page take; everything else is refused with
// its reason, and the page is made all the same.
func TestEveryLogo(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	wide := image.NewNRGBA(image.Rect(0, 0, 1800, 600))
	deep := image.NewRGBA64(image.Rect(0, 0, 60, 40))
	gray := image.NewGray(image.Rect(0, 0, 60, 40))
	two := image.NewPaletted(image.Rect(0, 0, 60, 40), color.Palette{color.White, color.Black})
	for x := range 60 {
		wide.Set(x, x, color.NRGBA{R: 200, A: 90})
		deep.Set(x, x%40, color.RGBA64{R: 0xffff, A: 0xffff})
		two.SetColorIndex(x, x%40, 1)
	}
	asPNG := func(m image.Image) []byte {
		var b bytes.Buffer
		require.NoError(t, png.Encode(&b, m))
		return b.Bytes()
	}
	asJPEG := func(m image.Image) []byte {
		var b bytes.Buffer
		require.NoError(t, jpeg.Encode(&b, m, nil))
		return b.Bytes()
	}
	logo := func(name string, b []byte) ([]byte, error) {
		file := filepath.Join(dir, name)
		require.NoError(t, os.WriteFile(file, b, 0o600))
		return readLogo(file)
	}
	for name, b := range map[string][]byte{
		"wide.png": asPNG(wide), "deep.png": asPNG(deep), "gray.png": asPNG(gray), "two.png": asPNG(two), "photo.jpg": asJPEG(wide), "gray.jpg": asJPEG(gray), "laced.png": laced(asPNG(image.NewNRGBA(image.Rect(0, 0, 1, 1)))),
	} {
		got, err := logo(name, b)
		require.NoError(t, err, name)
		c, kind, err := image.DecodeConfig(bytes.NewReader(got))
		require.NoError(t, err, name)
		assert.Equal(t, "png", kind)
		assert.LessOrEqual(t, max(c.Width, c.Height), logoPixels, name)
		var page bytes.Buffer
		_, err = pdf.Write(&page, pdf.A4, pdf.Page{Title: "Bracken", Head: pdf.Letterhead{Lines: []string{"Hollow Farm Practice"}, Logo: got}, At: time.Unix(0, 0), Blocks: []report.Block{{Heading: "x"}}})
		require.NoError(t, err, name)
		assert.True(t, strings.Contains(page.String(), "/Subtype /Image"), name)
		page.Reset()
		require.NoError(t, html.Write(&page, html.Page{Title: "Bracken", Logo: got}))
		assert.True(t, strings.Contains(page.String(), `src="data:image/png;base64,`), name)
	}
	for name, c := range map[string]struct {
		b    []byte
		want string
	}{
		"words.png": {[]byte("no picture"), "neither PNG nor JPEG"},
		"cut.png":   {asPNG(wide)[:len(asPNG(wide))/2], "damaged"},
		"big.png":   {append(asPNG(gray), make([]byte, mostLogo)...), "larger than 2 MB"},
		"long.png":  {asPNG(image.NewGray(image.Rect(0, 0, mostPixels+1, 1))), "4000 pixels"},
	} {
		_, err := logo(name, c.b)
		require.ErrorContains(t, err, c.want, name)
	}
	_, err := readLogo(dir)
	require.ErrorContains(t, err, "no file of a picture")

	var said bytes.Buffer
	e := &env{errOut: &said}
	assert.Empty(t, e.logo(exam.Letterhead{Picture: []byte("no picture")}))
	assert.Contains(t, said.String(), "the page is without its logo")
}
