/** Constants of nature and of its scales, SI. R and sigma are exact since 2019 (CODATA 2018, rounded to the digits written). */

/** 0 degC, K. */
export const ZERO_CELSIUS = 273.15;
/** R, J/(mol K). */
export const GAS_CONSTANT = 8.314462618;
/** sigma, W/(m2 K4). */
export const STEFAN_BOLTZMANN = 5.670374419e-8;
/** g, m/s2, the rounded value that the convection correlations are usually quoted with. */
export const GRAVITY = 9.81;
