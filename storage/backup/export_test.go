package backup

// Superfluous names the backups that are no longer kept.
func Superfluous(files []string) []string { return superfluous(files) }

// FileName is the name of a backup.
var FileName = fileName
