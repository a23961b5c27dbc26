// Package gs1 reads the codes on packages of medicines and vaccines, as a scanner
// types them: GS1 element strings of a DataMatrix, a GS1-128 or a QR code, and plain
// item numbers. It says every way in which a code can be read, and never chooses.
//
// Sources. Identifiers, lengths, data types and which of them need a separator:
// GS1 Barcode Syntax Dictionary (GS1 AISBL, Apache License 2.0; read on 2026-11-29),
// facts only. Check digit, set 82, two-digit years and the day 00: GS1 General
// Specifications, as the linters of that dictionary have them. How scanners send
// the separator: manuals of makers, and from memory.
package gs1
