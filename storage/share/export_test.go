package share

import "os"

// SyncBy makes a function sync the folder's files and folders, as another file system would.
func (f *Folder) SyncBy(sync func(*os.File) error) *Folder {
	f.fsync = sync
	return f
}
