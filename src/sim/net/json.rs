//! JSON with places.
