package toolpath

import "fmt"

// sayFuller names something about a fuller by its number in the knife file.
func sayFuller(number int, what string) string { return fmt.Sprintf("%s, fuller %d", what, number) }
