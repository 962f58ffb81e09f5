//! Reading a file's fields one by one.
