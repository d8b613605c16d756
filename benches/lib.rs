//! Speed, measured as ratios side by side: see the files beside this one.
