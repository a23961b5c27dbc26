package main

import (
	"bytes"
	"fmt"
	"image"
	_ "image/jpeg" // logos
	"image/png"
	"io"
	"os"

	"golang.org/x/image/draw"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// mostLogo is the largest file of a logo that is read, in bytes; mostPixels its largest side.
const (
	mostLogo   = 2 << 20
	mostPixels = 4000
	logoPixels = 900 // of the picture on a page, its longer side
)

// logo reads the picture of the practice for the head of a page. One that cannot be used is said, and left out: the page
// is made all the same.
func (e *env) logo(p exam.Practice) []byte {
	if p.Logo == "" {
		return nil
	}
	b, err := readLogo(p.Logo)
	if err != nil {
		e.say("loosebox: the page is without its logo: " + inWords(err))
		return nil
	}
	return b
}

func readLogo(path string) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close() //nolint:errcheck // read only
	if s, err := f.Stat(); err != nil || !s.Mode().IsRegular() {
		return nil, fmt.Errorf("%s is no file of a picture", notation.CleanLine(path, 0))
	}
	b, err := io.ReadAll(io.LimitReader(f, mostLogo+1))
	if err != nil {
		return nil, err
	}
	c, kind, err := image.DecodeConfig(bytes.NewReader(b))
	switch {
	case len(b) > mostLogo:
		return nil, fmt.Errorf("%s is larger than 2 MB", notation.CleanLine(path, 0))
	case err != nil || kind != "png" && kind != "jpeg":
		return nil, fmt.Errorf("%s is neither PNG nor JPEG", notation.CleanLine(path, 0))
	case c.Width < 1 || c.Height < 1 || c.Width > mostPixels || c.Height > mostPixels:
		return nil, fmt.Errorf("%s is larger than %d pixels on a side", notation.CleanLine(path, 0), mostPixels)
	}
	picture, _, err := image.Decode(bytes.NewReader(b))
	if err != nil {
		return nil, fmt.Errorf("%s is damaged", notation.CleanLine(path, 0))
	}
	return plainPNG(picture)
}

// plainPNG is a picture as PNG with eight bits a channel, no larger than a letterhead needs: pages take each PNG and JPEG
// so, with 16 bits, interlaced, or in the colors of print, which a PDF would refuse. What else a file held is left behind.
func plainPNG(picture image.Image) ([]byte, error) {
	size := picture.Bounds().Size()
	if most := max(size.X, size.Y); most > logoPixels {
		size.X, size.Y = max(size.X*logoPixels/most, 1), max(size.Y*logoPixels/most, 1)
	}
	plain := image.NewNRGBA(image.Rectangle{Max: size})
	draw.CatmullRom.Scale(plain, plain.Bounds(), picture, picture.Bounds(), draw.Src, nil)
	var out bytes.Buffer
	if err := png.Encode(&out, plain); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}
