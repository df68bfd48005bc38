"""Workshop calculations, each with formula, symbols, units, validity and source, and rules that need them.

`threads`, `strength`, `tightening`, `wrench`, `shear`, `belts`, `speeds`, `engine`, `fuel`, `oil` and
`electrics` hold pure functions on plain numbers with the unit in the name; `calculations` lists what a bench
uses, by name and in words.
"""
