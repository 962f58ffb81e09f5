//! What each number of chance is for: one stream for each constant, so that none shifts another (I5).
