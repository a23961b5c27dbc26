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
func (e *env) logo(p exam.Letterhead) []byte {
	if len(p.Picture) == 0 {
		return nil
	}
	b, err := readPicture(p.Picture, "the logo") // another laptop may have set it
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
	return readPicture(b, notation.CleanLine(path, 0))
}

// readPicture reads the bytes of a picture as a PNG that fits into one line of the record.
func readPicture(b []byte, name string) ([]byte, error) {
	c, kind, err := image.DecodeConfig(bytes.NewReader(b))
	switch {
	case len(b) > mostLogo:
		return nil, fmt.Errorf("%s is larger than 2 MB", name)
	case err != nil || kind != "png" && kind != "jpeg":
		return nil, fmt.Errorf("%s is neither PNG nor JPEG", name)
	case c.Width < 1 || c.Height < 1 || c.Width > mostPixels || c.Height > mostPixels:
		return nil, fmt.Errorf("%s is larger than %d pixels on a side", name, mostPixels)
	}
	picture, _, err := image.Decode(bytes.NewReader(b))
	if err != nil {
		return nil, fmt.Errorf("%s is damaged", name)
	}
	for most := logoPixels; ; most = most * 3 / 4 { // a photograph is made smaller until it fits
		out, err := plainPNG(picture, most)
		if err != nil || len(out) <= exam.MaxSetting {
			return out, err
		}
	}
}

// plainPNG is a picture as PNG with eight bits a channel, its longer side no longer than that: pages take each PNG and JPEG
// so, with 16 bits, interlaced, or in the colors of print, which a PDF would refuse. What else a file held is left behind.
func plainPNG(picture image.Image, longer int) ([]byte, error) {
	size := picture.Bounds().Size()
	if most := max(size.X, size.Y); most > longer {
		size.X, size.Y = max(size.X*longer/most, 1), max(size.Y*longer/most, 1)
	}
	plain := image.NewNRGBA(image.Rectangle{Max: size})
	draw.CatmullRom.Scale(plain, plain.Bounds(), picture, picture.Bounds(), draw.Src, nil)
	var out bytes.Buffer
	if err := png.Encode(&out, plain); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}

// oldLogo takes the picture into the record that an earlier version read from a file for
// each page.
func (s *ownSync) oldLogo() error {
	path, err := s.record.OldLogo()
	if err != nil || path == "" {
		return err
	}
	picture, err := readLogo(path)
	if err != nil {
		s.said = append(s.said, "pages are without their logo: "+inWords(err)+"; set it again in the settings")
		return nil
	}
	if _, set := s.states[exam.SettingLogo]; !set {
		err = s.record.SaveSetting(exam.Setting{Key: exam.SettingLogo, Value: picture, By: s.person, At: s.env.now()})
	}
	if err != nil {
		return err
	}
	own, err := s.record.Settings()
	if err == nil {
		err = s.record.SaveSettings(own) // without the path
	}
	return err
}
