//! What the address of the page asks for.

use viewer::action::Action;

use crate::app::App;
use crate::page;

/// What is asked for.
#[derive(Clone, Debug, Default)]
pub struct Asked {
    is_embedded: bool,
    scene: Option<String>,
}

impl Asked {
    /// Whether only the picture is wanted, for a page within another.
    #[must_use]
    pub const fn is_embedded(&self) -> bool {
        self.is_embedded
    }
}

/// What the address asks for now.
#[must_use]
pub fn asked() -> Asked {
    let scene = page::fragment().strip_prefix("scene=").map(str::to_owned);
    Asked { is_embedded: page::query().contains("only=picture"), scene }
}

/// Begins with what is asked for.
pub fn begin(app: &mut App, asked: Asked) {
    app.state.appearance.picture_alone = asked.is_embedded;
    go(app, &asked);
}

/// Goes where the address points.
pub fn go(app: &mut App, asked: &Asked) {
    let _ = (&asked.scene, Action::Help, app);
}
