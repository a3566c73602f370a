//! How a target is held that stands or spins, and does not hang.

use super::{Kind, Mount};
use thiserror::Error;

/// A mount that a target of its kind does not have. [`KindError::help`] says what would do.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
#[error("a {} is {}, and `{mount}` is given", kind.name(), kind.held().unwrap_or_default())]
pub struct KindError {
    /// What kind of target it is.
    pub kind: Kind,
    /// What it is not held by.
    pub mount: Mount,
}

impl KindError {
    /// What to write instead.
    #[must_use]
    pub fn help(self) -> &'static str {
        "leave the mount out; where it hangs free all the same, leave the kind out"
    }
}

impl Kind {
    /// What it is called.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Plate => "plate",
            Self::Falling => "falling plate",
            Self::Popper => "popper",
            Self::Spinner => "spinner",
        }
    }

    /// How a target of the kind is held by itself, as it is judged; `None` for a plate, which is hung or bolted.
    #[must_use]
    pub fn own_mount(self) -> Option<Mount> {
        match self {
            Self::Plate => None,
            // It stands stiff on its hinge until it falls.
            Self::Popper => Some(Mount::Bolted),
            Self::Falling | Self::Spinner => Some(Mount::CaptiveHook),
        }
    }

    /// The same in words.
    #[must_use]
    pub fn held(self) -> Option<&'static str> {
        match self {
            Self::Plate => None,
            Self::Falling => Some("standing on its base"),
            Self::Popper => Some("on its hinge"),
            Self::Spinner => Some("on its axle"),
        }
    }

    /// What is assumed of how it is held where no mount of its own is given; `None` for a plate.
    #[must_use]
    pub fn held_assumed(self) -> Option<&'static str> {
        match self {
            Self::Plate => None,
            Self::Popper => Some("a popper is taken as bolted"),
            Self::Falling | Self::Spinner => Some("a falling plate or spinner is taken as one that gives way"),
        }
    }

    /// Whether it stands on a hinge or a base, from which it falls: nothing hangs it.
    #[must_use]
    pub fn stands(self) -> bool {
        matches!(self, Self::Falling | Self::Popper)
    }

    /// The mount of a target of the kind: its own as given; else that of everything around it as far as that is no
    /// milder than the kind's; `None` where neither says.
    ///
    /// # Errors
    /// [`KindError`] for a target that stands on a hinge or a base, and is given as hanging.
    pub fn mount(self, own: Option<Mount>, around: Option<Mount>) -> Result<Option<Mount>, KindError> {
        if let Some(mount) = own {
            let hangs = self.stands() && mount.is_free();
            return if hangs { Err(KindError { kind: self, mount }) } else { Ok(own) };
        }
        // What hangs around it says nothing of what stands; what is rigid is judged the harder.
        Ok(match self.own_mount() {
            None => around,
            Some(by_kind) => Some(around.filter(|mount| !mount.is_free()).unwrap_or(by_kind)),
        })
    }

    /// How a target of the kind is held by a mount, in words.
    #[must_use]
    pub fn held_by(self, mount: Mount) -> &'static str {
        self.held().filter(|_| self.own_mount() == Some(mount)).unwrap_or_else(|| mount.words())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_stands_is_never_hung_and_what_is_around_it_only_makes_it_stiffer() {
        let hook = Some(Mount::OpenHook);
        assert_eq!(Kind::Popper.mount(None, None), Ok(Some(Mount::Bolted)));
        assert_eq!(Kind::Popper.mount(None, hook), Ok(Some(Mount::Bolted)));
        assert_eq!(Kind::Popper.mount(None, Some(Mount::Welded)), Ok(Some(Mount::Welded)));
        assert_eq!(Kind::Falling.mount(None, hook), Ok(Some(Mount::CaptiveHook)));
        assert_eq!(Kind::Falling.mount(Some(Mount::Bolted), hook), Ok(Some(Mount::Bolted)));
        assert_eq!(Kind::Plate.mount(None, hook), Ok(hook));
        assert_eq!(Kind::Spinner.mount(hook, None), Ok(hook));
        for kind in [Kind::Popper, Kind::Falling] {
            for mount in [Mount::OpenHook, Mount::CaptiveHook, Mount::Chain] {
                let fault = kind.mount(Some(mount), None).unwrap_err();
                assert!(fault.to_string().contains(kind.name()), "{fault}");
            }
        }
    }
}
