// Package share brings the records of several laptops together through a folder: a stick
// that is carried between them, a network drive, or a folder that another program keeps
// the same on all of them. Each file is a segment of a log (see exam/signedlog):
//
//	DIR/loosebox-share.txt                  says to people what the folder is
//	DIR/<log>/<first>-<last>-<digest>.seg   records of one log, signed
//	DIR/<log>/.new-<machine>-*.tmp          a file that is being written
//
// A file is written under a temporary name, synced and renamed; it is never changed and
// never removed. Names say nothing and bytes everything: a file with another name, in
// another folder, or twice, is read for what it holds, and one that does not verify is
// passed over and gets a sound one beside it.
package share
