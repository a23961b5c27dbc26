package score

// Makers is how many scores Summary can list.
func Makers() int { return len(ofHorse()) + len(ofPlace()) }
