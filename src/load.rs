//! Bullet, construction, muzzle velocity and its spread, drag, firearm.
