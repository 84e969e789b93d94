// Command bygone turns a sewing pattern into that of a garment of another
// period, and proves after every alteration that the seams still go together.
package main

import "os"

func main() { os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }
