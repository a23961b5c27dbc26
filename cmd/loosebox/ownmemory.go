package main

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"loosebox/exam"
)

// ownMemory is the file in the data folder that remembers what was the same as a file and in the record.
const ownMemory = "own-files.json"

// maxMemory bounds that file, in bytes.
const maxMemory = 4 << 20

// ownFile is what is remembered of one file: the SHA-256 of what it held, and the lines that
// said so.
type ownFile struct {
	Sum   string      `json:"sum"`
	Lines []exam.Hash `json:"lines"`
}

func sumOf(b []byte) string {
	if len(b) == 0 {
		return "" // no file
	}
	sum := sha256.Sum256(b)
	return hex.EncodeToString(sum[:])
}

func (s *ownSync) remember(key exam.SettingKey, file []byte, lines []exam.Hash) {
	now := ownFile{sumOf(file), lines}
	if old, ok := s.memory[key]; ok && old.Sum == now.Sum && slices.Equal(old.Lines, now.Lines) || !ok && len(lines) == 0 {
		return
	}
	s.memory[key], s.change = now, true
}

// keep writes what is remembered.
func (s *ownSync) keep() error {
	data, err := json.MarshalIndent(s.memory, "", " ")
	if err != nil {
		return fmt.Errorf("write what is known of the practice's files: %w", err)
	}
	path := filepath.Join(s.dir, ownMemory)
	if err := os.Remove(path + ".new"); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return writeOwn(path, append(data, '\n'))
}
