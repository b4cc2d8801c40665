//! Coil springs from their wire, their materials, and the rate of one that nothing is printed on.

use pyo3::prelude::*;
use wheelrate::spring::{self, CoilEnds, Seating, StressFactor};
use wheelrate::units::{Force, Frequency, Length, Mass, MassDensity, Share, SpringRate, Stress, Volume};

use super::Spring;
use crate::errors::{raise, run};
use crate::plain::{Text, text};
use crate::uncertain::{Uncertain, read_uncertain};
use crate::units::{Given, GivenArray, Out, OutArray, plain, read_optional};
use crate::value::{Named, choice, getters, value_class};

value_class! {
    /// A spring material: one known by name, or moduli and density of one's own.
    ///
    /// Parameters
    /// ----------
    /// name : str
    ///     One of `known`, or any other with all the values.
    /// elastic_modulus, shear_modulus : stress, optional
    ///     ``E`` and ``G``.
    /// density : mass density, optional
    ///     Of the wire.
    /// source : str, optional
    ///     Where the values come from.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> print(wr.Material("EN 10270-1").shear_modulus.to("GPa"))
    /// 81.5 gigapascal
    /// >>> print(wr.Material("Ti-3Al-8V-6Cr-4Mo-4Zr").source)
    /// aged beta titanium, from memory; moduli vary by 3 % with ageing
    Material(spring::Material)
}

getters! {
    Material {
        /// Its name.
        name: &str = |material| material.0.name();
        /// Elastic modulus, ``E``.
        elastic_modulus: Out<Stress> = |material| Out(material.0.elastic_modulus());
        /// Shear modulus, ``G``.
        shear_modulus: Out<Stress> = |material| Out(material.0.shear_modulus());
        /// Density of the wire.
        density: Out<MassDensity> = |material| Out(material.0.density());
        /// Where the values come from.
        source: &str = |material| material.0.source();
    }
}

#[pymethods]
impl Material {
    #[new]
    #[pyo3(signature = (name, *, elastic_modulus=None, shear_modulus=None, density=None, source: "str"=""))]
    fn new(
        py: Python<'_>,
        name: Text,
        elastic_modulus: Option<Given<'_, Stress>>,
        shear_modulus: Option<Given<'_, Stress>>,
        density: Option<Given<'_, MassDensity>>,
        #[pyo3(from_py_with = text)] source: &str,
    ) -> PyResult<Self> {
        let elastic = read_optional(elastic_modulus, "elastic_modulus")?;
        let shear = read_optional(shear_modulus, "shear_modulus")?;
        match (elastic, shear, read_optional(density, "density")?) {
            (None, None, None) => run(py, || spring::Material::named(&name)).map(Self),
            (Some(elastic_modulus), Some(shear_modulus), Some(density)) => {
                let (name, source) = (name.0, source.to_owned());
                let parts = spring::MaterialParts { name, elastic_modulus, shear_modulus, density, source };
                run(py, || spring::Material::new(parts)).map(Self)
            }
            _ => {
                let message = "elastic_modulus, shear_modulus and density: give all of them, or a known name alone";
                Err(raise(py, "SpringError", (message,)))
            }
        }
    }
    /// Every material known by name.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> [material.name for material in wr.Material.known()][:3]
    /// ['EN 10270-1', 'EN 10270-2', 'EN 10089']
    #[staticmethod]
    fn known() -> Vec<Self> {
        spring::Material::known().into_iter().map(Self).collect()
    }
}

/// A material, or the name of a known one.
fn material_of(given: &Bound<'_, PyAny>) -> PyResult<spring::Material> {
    if let Ok(Material(known)) = given.extract() {
        return Ok(known);
    }
    let Text(name) = given.extract()?;
    run(given.py(), || spring::Material::named(&name))
}

value_class! {
    /// A cylindrical coil spring of round wire, ``k = G·d⁴/(8·D³·n)``.
    ///
    /// Parameters
    /// ----------
    /// wire : length
    ///     Diameter ``d`` of the wire.
    /// mean_diameter : length
    ///     Diameter ``D`` of the coil, middle of the wire to middle of the wire: outside diameter less ``d``.
    /// active_coils : float
    ///     Coils ``n`` that twist: all of them, less 2 for closed ends.
    /// ends : {"open", "open-ground", "closed", "closed-ground"}
    ///     How the ends are made.
    /// material : Material or str
    ///     Of the wire, or its name.
    /// free_length : length, optional
    ///     Unloaded.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> coil = wr.CoilGeometry(
    /// ...     wire="11.2 mm", mean_diameter="66 mm", active_coils=5.8, ends="closed-ground", material="EN 10270-2",
    /// ...     free_length="230 mm",
    /// ... )
    /// >>> print(coil.rate.round(1), coil.solid_length.round(1), coil.mass.to("kg").round(2))
    /// 93.8 newton / millimeter 87.4 millimeter 1.25 kilogram
    /// >>> print(coil.shear_stress("4 kN").round(0))  # Wahl's factor
    /// 602.0 megapascal
    CoilGeometry(spring::CoilGeometry)
}

getters! {
    CoilGeometry {
        /// Spring index ``D/d``.
        index: f64 = |geometry| geometry.0.index();
        /// All coils, those at the ends included.
        total_coils: f64 = |geometry| geometry.0.total_coils();
        /// Its rate.
        rate: Out<SpringRate> = |geometry| Out(geometry.0.rate());
        /// Length unloaded, where given.
        free_length: Option<Out<Length>> = |geometry| geometry.0.free_length().map(Out);
        /// Length with all coils touching.
        solid_length: Out<Length> = |geometry| Out(geometry.0.solid_length());
        /// Compression until the coils touch; None without a free length.
        solid_compression: Option<Out<Length>> = |geometry| geometry.0.solid_compression().map(Out);
        /// Volume of the wire: what the spring takes from the air of a fork leg.
        volume: Out<Volume> = |geometry| Out(geometry.0.volume());
        /// Mass of the whole spring.
        mass: Out<Mass> = |geometry| Out(geometry.0.mass());
        /// First natural frequency between two plates, ``√(k/m)/2`` with the mass of the active coils.
        surge_frequency: Out<Frequency> = |geometry| Out(geometry.0.surge_frequency());
    }
}

#[pymethods]
impl CoilGeometry {
    #[new]
    #[pyo3(signature = (*, wire, mean_diameter, active_coils: "float", ends, material: "Material | str", free_length=None))]
    fn new(
        wire: Given<'_, Length>,
        mean_diameter: Given<'_, Length>,
        #[pyo3(from_py_with = plain::active_coils)] active_coils: f64,
        ends: Text,
        material: &Bound<'_, PyAny>,
        free_length: Option<Given<'_, Length>>,
    ) -> PyResult<Self> {
        let py = material.py();
        let (wire, mean_diameter) = (wire.read("wire")?, mean_diameter.read("mean_diameter")?);
        let (ends, material): (CoilEnds, _) = (choice(py, &ends, "ends", "SpringError")?, material_of(material)?);
        let free = read_optional(free_length, "free_length")?;
        run(py, || {
            let parts = spring::CoilParts { wire, mean_diameter, active_coils, ends, material };
            let coil = spring::CoilGeometry::new(parts)?;
            free.map_or(Ok(coil.clone()), |free| coil.with_free_length(free))
        })
        .map(Self)
    }
    /// Shear stress in the wire, ``τ = K·8·F·D/(π·d³)``.
    ///
    /// Parameters
    /// ----------
    /// force : force
    ///     On the spring.
    /// factor : {"wahl", "bergstrasser", "direct-shear", "torsion"}
    ///     Correction ``K`` for the curvature of the wire; the second is that of EN 13906-1.
    #[pyo3(signature = (force, factor: "str"="wahl"))]
    fn shear_stress(
        &self,
        py: Python<'_>,
        force: Given<'_, Force>,
        #[pyo3(from_py_with = text)] factor: &str,
    ) -> PyResult<Out<Stress>> {
        let factor: StressFactor = choice(py, factor, "factor", "SpringError")?;
        Ok(Out(self.0.shear_stress(force.read("force")?, factor)))
    }
    /// Shear stress with all coils touching, factor as in `shear_stress`; None without a free length.
    #[pyo3(signature = (factor: "str"="wahl"))]
    fn solid_stress(&self, py: Python<'_>, #[pyo3(from_py_with = text)] factor: &str) -> PyResult<Option<Out<Stress>>> {
        let factor: StressFactor = choice(py, factor, "factor", "SpringError")?;
        Ok(self.0.solid_stress(factor).map(Out))
    }
    /// Free length below which the spring never buckles.
    ///
    /// Parameters
    /// ----------
    /// seating : {"fixed", "fixed-hinged", "hinged", "fixed-free"}
    ///     How the ends are held; two flat parallel plates are ``"fixed"``.
    #[pyo3(signature = (seating: "str"="fixed"))]
    fn stable_free_length(&self, py: Python<'_>, #[pyo3(from_py_with = text)] seating: &str) -> PyResult<Out<Length>> {
        let seating: Seating = choice(py, seating, "seating", "SpringError")?;
        Ok(Out(self.0.stable_free_length(seating)))
    }
    /// Compression at which the spring buckles, seating as in `stable_free_length`; None when it never does, or without
    /// a free length. A guide or a close bore holds a longer spring.
    #[pyo3(signature = (seating: "str"="fixed"))]
    fn buckling_compression(
        &self,
        py: Python<'_>,
        #[pyo3(from_py_with = text)] seating: &str,
    ) -> PyResult<Option<Out<Length>>> {
        let seating: Seating = choice(py, seating, "seating", "SpringError")?;
        Ok(self.0.buckling_compression(seating).map(Out))
    }
    /// The spring as an element of a fork or a shock, its lengths known where the free length is.
    fn spring(&self, py: Python<'_>) -> PyResult<Spring> {
        run(py, || self.0.coil()).map(|coil| Spring(coil.into()))
    }
}

value_class! {
    /// A coil spring that nothing is printed on, as a caliper sees it.
    ///
    /// Parameters
    /// ----------
    /// wire, outside_diameter : Uncertain or pair of lengths
    ///     As read, with the standard uncertainty. The wire counts four times over: measure it bare of paint, in several
    ///     places.
    /// active_coils : pair of floats
    ///     Coils that twist, with the standard uncertainty of the count.
    /// material : Material or str
    ///     What the wire is taken to be.
    /// shear_modulus_uncertainty : float, optional
    ///     Standard uncertainty of its shear modulus as a share of it; 0.02 unless given, that of spring steel of an unknown
    ///     grade: textbooks give 77.2 GPa to 82.7 GPa.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> found = wr.UnmarkedSpring(
    /// ...     wire=("4.51 mm", "0.02 mm"), outside_diameter=("35.4 mm", "0.1 mm"), active_coils=(29, 0.25),
    /// ...     material="EN 10270-1",
    /// ... )
    /// >>> print(found.rate)
    /// 4.93 ± 0.15 N/mm
    /// >>> print(found.candidates(["4.4 N/mm", "4.6 N/mm", "4.8 N/mm", "5.0 N/mm"]).round(1))
    /// [4.8 5.0] newton / millimeter
    UnmarkedSpring(spring::UnmarkedSpring)
}

getters! {
    UnmarkedSpring {
        /// What each reading adds to the relative standard uncertainty of the rate; squares add up.
        budget: Named<Out<Share>> = |spring| {
            let spring::RateBudget { wire, outside_diameter, active_coils, shear_modulus, .. } = spring.0.budget();
            let parts = [
                ("wire", wire),
                ("outside_diameter", outside_diameter),
                ("active_coils", active_coils),
                ("shear_modulus", shear_modulus),
            ];
            let share = wheelrate::units::Quantity::from_si;
            Named(parts.into_iter().map(|(name, part)| (name.to_owned(), Out(share(part)))).collect())
        };
    }
}

#[pymethods]
impl UnmarkedSpring {
    #[new]
    #[pyo3(signature = (
        *,
        wire: "Uncertain | tuple[wheelrate.typing.QuantityLike, wheelrate.typing.QuantityLike]",
        outside_diameter: "Uncertain | tuple[wheelrate.typing.QuantityLike, wheelrate.typing.QuantityLike]",
        active_coils: "tuple[float, float]",
        material: "Material | str",
        shear_modulus_uncertainty: "float" = 0.02,
    ))]
    fn new(
        wire: &Bound<'_, PyAny>,
        outside_diameter: &Bound<'_, PyAny>,
        #[pyo3(from_py_with = plain::active_coils_known_to)] active_coils: (f64, f64),
        material: &Bound<'_, PyAny>,
        #[pyo3(from_py_with = plain::shear_modulus_uncertainty)] shear_modulus_uncertainty: f64,
    ) -> PyResult<Self> {
        let (py, (active_coils, active_coils_uncertainty)) = (material.py(), active_coils);
        let parts = spring::UnmarkedParts {
            wire: read_uncertain(wire, "wire")?,
            outside_diameter: read_uncertain(outside_diameter, "outside_diameter")?,
            active_coils,
            active_coils_uncertainty,
            material: material_of(material)?,
            shear_modulus_uncertainty,
        };
        run(py, || spring::UnmarkedSpring::new(parts)).map(Self)
    }
    /// Its rate.
    #[getter]
    fn rate(&self, py: Python<'_>) -> PyResult<Uncertain> {
        run(py, || self.0.rate()).map(Uncertain::from)
    }
    /// Those of some rates that the readings cannot distinguish from the spring's.
    ///
    /// Parameters
    /// ----------
    /// rates : array of spring rate
    ///     What it might be.
    /// coverage_factor : float, optional
    ///     Standard uncertainties on either side; 2 for about 95 % unless given.
    #[pyo3(signature = (rates, coverage_factor: "float" = 2.0))]
    fn candidates(
        &self,
        py: Python<'_>,
        rates: GivenArray<'_, SpringRate>,
        #[pyo3(from_py_with = plain::coverage_factor)] coverage_factor: f64,
    ) -> PyResult<OutArray<SpringRate>> {
        let rates = rates.read("rates")?;
        run(py, || self.0.candidates(&rates, coverage_factor)).map(OutArray)
    }
}
